import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { formatCardPage } from '../../../src/formats/board/card-page.ts';
import type { RepeatCardContent } from '../../../src/formats/sheet/card-content.ts';
import { repeatCard } from '../../../src/formats/sheet/repeat-card.ts';
import { DEFAULT_CARD_TEMPLATE } from '../../../src/formats/sheet/template.ts';
import { hasBrowser, launchBrowser } from '../../support/browser.ts';
import { handheldWithoutSwap } from '../../support/make-judged.ts';
import { defaultOptics } from '../../support/optics-settings.ts';

const found = repeatCard(handheldWithoutSwap(), DEFAULT_CARD_TEMPLATE, { show: 'Tidewrack', optics: defaultOptics() });
if (found === undefined) throw new Error('the set lacks a pass');
const card: RepeatCardContent = found;
const EVIL = `"><script>alert('x')</script><img src=x onerror=alert(1)>&amp;\u001b[2J`;
/** Words nobody puts on a card, and yet somebody will. */
const LONG = `${'Donaudampfschifffahrtsgesellschaft'.repeat(8)} ${'x'.repeat(300)}`;

describe('the page of a repeat card', () => {
  it('says what the paper says: order, values with their ±, what is sharp, marks with times, what to measure, safety', () => {
    const page = formatCardPage(card);
    for (const words of ['Shoot the swapped pass', 'Prime 25', '± 0.5 mm', '6′ 10¾″ · sharp 1.81 m to 2.51 m', '+4.50 s', 'left foot on blue tape', 'Not on record: read or measure it before the camera moves', 'distance to background', 'It clears nothing for safety']) {
      expect(page).toContain(words);
    }
  });

  it('needs nothing from outside and runs no script', () => {
    const page = formatCardPage(card);
    expect(page).not.toMatch(/<script|https?:|\/\/|url\(|@import|\son\w+=|javascript:|<img|<link/i);
    expect(page).toContain("default-src 'none'");
  });

  it('escapes whatever stands in names, values and notes', () => {
    const page = formatCardPage({
      ...card, title: EVIL, show: EVIL, name: EVIL, beside: EVIL, order: EVIL, like: EVIL, sources: EVIL, taken: [EVIL], within: [EVIL], missing: [{ what: EVIL, why: EVIL }],
      sections: [{ heading: EVIL, facts: [{ label: EVIL, value: EVIL, tolerance: EVIL, also: EVIL, mark: EVIL }], marks: [{ name: EVIL, time: EVIL, also: EVIL, values: [EVIL] }] }], footer: { left: EVIL, caution: EVIL },
    });
    expect(page).not.toContain('<script');
    expect(page).not.toContain('<img');
    expect(page).not.toContain('\u001b');
    expect(page).toContain('&lt;script&gt;');
  });
});

describe.skipIf(!hasBrowser())('the page of a repeat card, in a browser without script and without a network', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchBrowser();
  }, 60_000);
  afterAll(() => browser.close());

  async function open(content: RepeatCardContent, colorScheme: 'light' | 'dark' = 'light') {
    const context = await browser.newContext({ viewport: { width: 360, height: 740 }, javaScriptEnabled: true, offline: true, colorScheme });
    const page = await context.newPage();
    const asked: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    await page.setContent(formatCardPage(content));
    return { page, context, asked };
  }

  const narrow = '({ wide: document.documentElement.scrollWidth, past: [...document.querySelectorAll("body *")].filter((one) => one.getBoundingClientRect().right > innerWidth + 0.5).map((one) => one.tagName + " " + one.textContent.slice(0, 40)) })';

  it('fits a phone 360 px wide, whatever stands in it', async () => {
    const long: RepeatCardContent = {
      ...card, name: LONG, order: LONG, like: LONG, sources: LONG, taken: [LONG], missing: [{ what: LONG, why: LONG }],
      sections: [...card.sections, { heading: LONG, facts: [{ label: LONG, value: LONG, tolerance: LONG, also: LONG, mark: LONG }], marks: [{ name: LONG, time: LONG, also: LONG, values: [LONG] }] }],
    };
    for (const content of [card, long]) {
      const { page, context, asked } = await open(content);
      expect(await page.evaluate(narrow)).toEqual({ wide: 360, past: [] });
      expect(asked).toEqual([]);
      await context.close();
    }
  }, 60_000);

  it('prints values large enough to be read at arm’s length', async () => {
    const { page, context } = await open(card);
    const sizes = await page.evaluate<number[]>('[...document.querySelectorAll("dd")].map((one) => parseFloat(getComputedStyle(one).fontSize))');
    expect(sizes.length).toBeGreaterThan(15);
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(24);
    await context.close();
  }, 60_000);

  it('is dark on a dark phone and light on a light one, text and ground at least 7 to 1 apart', async () => {
    for (const scheme of ['light', 'dark'] as const) {
      const { page, context } = await open(card, scheme);
      const [ground, ink] = await page.evaluate<[string, string]>('[getComputedStyle(document.body).backgroundColor, getComputedStyle(document.body).color]');
      // WCAG 2.2, relative luminance and contrast ratio; 7 to 1 is level AAA.
      const [a, b] = [luminance(ground), luminance(ink)];
      expect(scheme === 'dark' ? a < b : a > b).toBe(true);
      expect((Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05)).toBeGreaterThan(7);
      await context.close();
    }
  }, 60_000);
});

function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = (/\d+, \d+, \d+/.exec(colour)?.[0] ?? '').split(', ').map((channel) => {
    const share = Number(channel) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}
