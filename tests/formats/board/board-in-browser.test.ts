import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { JudgedDay, JudgedSet } from '../../../src/core/checks/judged.ts';
import { formatBoard } from '../../../src/formats/board/board.ts';
import { hasBrowser, launchBrowser } from '../../support/browser.ts';
import { ambiguousMoco, brokenSplit, clearSplit, finding, handheldWithoutSwap, makeJudgedDay } from '../../support/make-judged.ts';
import { defaultOptics } from '../../support/optics-settings.ts';
import { parsePage } from '../../support/parse-page.ts';

const boardOf = (day: JudgedDay, show = 'Saltmarsh Row'): string => formatBoard(day, { show, stills: new Map(), optics: defaultOptics() });
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** A set under another name, so that a day can have as many as it takes. */
function renamed(judged: JudgedSet, name: string, camera = judged.matched.set.camera): JudgedSet {
  return { ...judged, matched: { ...judged.matched, set: { ...judged.matched.set, id: `${name}-${camera}`, slate: name, camera } } };
}

/** Names nobody gives, and yet somebody will: markup, a script's end, right-to-left letters, four thousand characters without a gap. */
const HOSTILE = ['</script><img src=x onerror="document.title=1">', '"><svg onload=document.title=1>', "';document.title=1//", '<!--<script>', '\u202eתמונה מראה שמאל', 'مشهد ٢٧', 'x'.repeat(4000), '𝌆'.repeat(500), '&lt;b&gt;', '${1}`'];

function hostileDay(): JudgedDay {
  const day = makeJudgedDay();
  const sets = HOSTILE.map((name, index) => {
    const judged = renamed(index % 2 === 0 ? brokenSplit() : handheldWithoutSwap(), name, name);
    const set = { ...judged.matched.set, methodFrom: name };
    return { ...judged, reason: name, findings: [finding('unknown-slate', 'stop', [], { value: name, unit: name }, undefined, name, name, [name]), ...judged.findings], matched: { ...judged.matched, set, leftOver: [{ clip: name, why: name }] } };
  });
  return { ...day, sets: [...day.sets, ...sets], unplaced: HOSTILE.map((name) => ({ clip: name, why: name })) };
}

/** What stands out of the page to the right, by its edges; nothing may. */
const OVERFLOW = `({ wide: document.documentElement.scrollWidth, past: [...document.querySelectorAll("body *")].filter((one) => one.getBoundingClientRect().right > innerWidth + 0.5 && !one.closest(".track, .scale, .skip, option")).map((one) => one.tagName + "." + one.className + " " + one.textContent.slice(0, 40)) })`;
const SHOWN = '[...document.querySelectorAll("main > article")].filter((set) => set.checkVisibility()).map((set) => set.querySelector("h2 bdi").textContent)';
const STATUS = 'document.getElementById("shown").textContent';

describe('a board with hostile names', () => {
  it('has no parse error and no element more than one with plain names', () => {
    const { errors, elements } = parsePage(boardOf(hostileDay(), HOSTILE[0]));
    expect(errors).toEqual([]);
    const names = new Set(parsePage(boardOf(makeJudgedDay())).elements.map(({ name }) => name));
    expect(elements.map(({ name }) => name).filter((name) => !names.has(name))).toEqual([]);
    expect(elements.filter(({ attributes }) => Object.keys(attributes).some((name) => name.startsWith('on')))).toEqual([]);
  });
});

describe.skipIf(!hasBrowser())('the day board in a browser', { timeout: 180_000 }, () => {
  let browser: Browser;
  const troubles: string[] = [];
  const contexts: BrowserContext[] = [];
  beforeAll(async () => {
    browser = await launchBrowser();
  });
  afterEach(async () => {
    for (const context of contexts.splice(0)) await context.close();
    // No error of any script or policy, and not one request.
    expect(troubles.splice(0)).toEqual([]);
  });
  afterAll(() => browser.close());

  async function open(board: string, { width = 1400, ...options }: { width?: number; colorScheme?: 'light' | 'dark'; javaScriptEnabled?: boolean } = {}): Promise<Page> {
    const context = await browser.newContext({ viewport: { width, height: 900 }, ...options });
    contexts.push(context);
    const page = await context.newPage();
    page.on('console', (message) => troubles.push(`${message.type()}: ${message.text()}`));
    page.on('pageerror', (problem) => troubles.push(`error: ${problem.message}`));
    await context.route('**', async (route) => {
      if (route.request().url() === 'http://board.test/') return route.fulfill({ contentType: 'text/html; charset=utf-8', body: board });
      troubles.push(`asked for ${route.request().url()}`);
      return route.abort();
    });
    await page.goto('http://board.test/');
    return page;
  }

  it('fits a phone of 360 px and a screen of 1400 px without sideways scrolling, whatever stands in it', async () => {
    for (const day of [makeJudgedDay(), hostileDay()]) {
      const page = await open(boardOf(day), { width: 360 });
      for (const width of [360, 1400]) {
        await page.setViewportSize({ width, height: 900 });
        expect(await page.evaluate(OVERFLOW)).toEqual({ wide: width, past: [] });
        expect(await page.title()).toBe('Day board · Saltmarsh Row');
      }
    }
  });

  it('finds sets by text, verdict, camera and finding, and says how many are left', async () => {
    const page = await open(boardOf(makeJudgedDay()));
    const find = page.getByRole('searchbox');
    expect(await page.evaluate(STATUS)).toBe('All 5 sets shown');
    await find.fill('27b');
    expect(await page.evaluate(SHOWN)).toEqual(['27B']);
    expect(await page.evaluate(STATUS)).toBe('1 of 5 sets shown');
    // Not the 27 within timecodes, names of clips or findings: two letters must begin a word.
    await find.fill('4');
    expect(await page.evaluate(SHOWN)).toEqual(['44A']);
    await find.fill('A003C013');
    expect(await page.evaluate(SHOWN)).toEqual(['27B']);
    await find.fill('twr 0020');
    expect(await page.evaluate(SHOWN)).toEqual(['27B']);
    await find.press('Escape');
    expect(await page.evaluate(STATUS)).toBe('All 5 sets shown');
    await page.getByLabel('Camera', { exact: true }).selectOption('B');
    expect(await page.evaluate(SHOWN)).toEqual(['44A']);
    await page.getByRole('checkbox', { name: 'no' }).check();
    expect(await page.evaluate(SHOWN)).toEqual([]);
    expect(await page.evaluate(STATUS)).toBe('No set fits. 0 of 5 sets shown');
    await page.getByRole('button', { name: 'Show all' }).click();
    await page.getByLabel('Finding', { exact: true }).selectOption('stop-differs');
    expect(await page.evaluate(SHOWN)).toEqual(['27B']);
    expect(await page.evaluate('["no", "look", "yes"].map((verdict) => document.getElementById("count-" + verdict).textContent)')).toEqual(['1', '0', '0']);
    expect(await page.evaluate('[...document.querySelectorAll("#overview tbody tr")].filter((row) => row.checkVisibility()).length')).toBe(1);
    await page.getByLabel('Finding', { exact: true }).selectOption('truncated-clip');
    expect(await page.evaluate('document.getElementById("in-no-set").checkVisibility()')).toBe(true);
  });

  it('finds a hostile name as it is written', async () => {
    const page = await open(boardOf(hostileDay()));
    await page.getByRole('searchbox').fill('تمونة');
    expect(await page.evaluate(SHOWN)).toEqual([]);
    await page.getByRole('searchbox').fill('مشهد');
    expect(await page.evaluate(SHOWN)).toEqual(['مشهد ٢٧']);
    await page.getByRole('searchbox').fill('</script><img src=x');
    expect(await page.evaluate(SHOWN)).toEqual([HOSTILE[0]]);
  });

  it('shows everything and no controls without script', async () => {
    const page = await open(boardOf(makeJudgedDay()), { javaScriptEnabled: false });
    expect(await page.getByRole('article').count()).toBe(5);
    expect(await page.getByRole('search').count()).toBe(0);
    expect(await page.getByRole('link', { name: '27B-A' }).count()).toBe(1);
  });

  it('is worked with the keyboard alone: skip link, search, verdicts, lists, sets, in the order they are read', async () => {
    const page = await open(boardOf(makeJudgedDay()));
    const here = async (): Promise<string> => page.evaluate('(document.activeElement.labels?.[0] ?? document.activeElement).textContent.trim().split("\\n")[0].slice(0, 20)');
    const seen: string[] = [];
    for (let count = 0; count < 8; count += 1) {
      await page.keyboard.press('Tab');
      seen.push(await here());
      // Whatever has the focus shows it, and is where it can be seen.
      expect(await page.evaluate('getComputedStyle(document.activeElement).outlineStyle !== "none" && document.activeElement.getBoundingClientRect().top >= 0')).toBe(true);
    }
    expect(seen).toEqual(['To the sets', 'Set, slate, shot or ', '✕ no 3', '◎ look 1', '✓ yes 1', 'Camera', 'Finding', '27B-A']);
    await page.keyboard.press('Enter');
    await page.evaluate('new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))');
    const top = await page.evaluate<number>('document.getElementById("set-27B-A").getBoundingClientRect().top');
    const bar = await page.evaluate<number>('document.getElementById("filter").getBoundingClientRect().bottom');
    expect(top).toBeGreaterThanOrEqual(bar);
    expect(top).toBeLessThan(bar + 60);
  });

  it('opens at a set that a link names, even when a filter hid it', async () => {
    const page = await open(boardOf(makeJudgedDay()));
    await page.getByRole('searchbox').fill('44A');
    await page.evaluate('location.hash = "#set-27B-A"');
    await page.waitForFunction('document.getElementById("set-27B-A").checkVisibility()');
    expect(await page.evaluate(STATUS)).toBe('All 5 sets shown');
  });

  it('breaks no rule of WCAG 2, levels A and AA, that a machine can see: light, dark, phone and desktop, narrowed or not', async () => {
    for (const [width, schemes] of [[360, ['light']], [1400, ['dark', 'light']]] as const) {
      const page = await open(boardOf(makeJudgedDay()), { width });
      await page.addStyleTag({ content: '.set{content-visibility:visible!important}' });
      if (width === 360) await page.getByRole('checkbox', { name: 'no' }).check();
      await page.evaluate(AXE);
      for (const colorScheme of schemes) {
        await page.emulateMedia({ colorScheme });
        const found = await page.evaluate<{ violations: { id: string; nodes: { html: string; failureSummary: string }[] }[]; passes: string[] }>(
          `axe.run({ runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "best-practice"], resultTypes: ["violations"] }).then(({ violations, passes }) => ({ violations, passes: passes.map(({ id }) => id) }))`,
        );
        expect(found.violations.map(({ id, nodes }) => [id, nodes.map(({ html, failureSummary }) => `${html.slice(0, 120)}: ${failureSummary}`)])).toEqual([]);
        for (const rule of ['color-contrast', 'label', 'landmark-one-main', 'heading-order', 'bypass']) expect(found.passes).toContain(rule);
      }
    }
  });

  it('prints no controls, a page a set, black on white even from a dark screen, and says when it is not the whole day', async () => {
    const page = await open(boardOf(makeJudgedDay()), { colorScheme: 'dark' });
    const visible = async (selector: string): Promise<boolean> => page.evaluate(`document.querySelector(${JSON.stringify(selector)}).checkVisibility()`);
    await page.emulateMedia({ media: 'print' });
    expect([await visible('#filter'), await visible('.skip'), await visible('.back'), await visible('#shown'), await visible('.totals')]).toEqual([false, false, false, false, true]);
    expect(await page.evaluate('[getComputedStyle(document.body).backgroundColor, getComputedStyle(document.body).color, getComputedStyle(document.querySelector(".set")).breakBefore]')).toEqual(['rgb(255, 255, 255)', 'rgb(0, 0, 0)', 'page']);
    const pages = async (): Promise<number> => (await page.pdf({ format: 'A4' })).toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;
    // The list, five sets, and what is in none; a long set may take two.
    const whole = await pages();
    expect(whole).toBeGreaterThanOrEqual(7);
    await page.emulateMedia({ media: 'screen' });
    await page.getByLabel('Camera', { exact: true }).selectOption('B');
    await page.emulateMedia({ media: 'print' });
    expect(await visible('#shown')).toBe(true);
    expect(await pages()).toBeLessThan(whole - 3);
  });

  it('stays quick with two thousand sets', async () => {
    const kinds = [brokenSplit(), clearSplit(), ambiguousMoco()];
    const sets = Array.from({ length: 2000 }, (_, index) => renamed(kinds[index % kinds.length] ?? clearSplit(), `${100 + index}`));
    const page = await open(boardOf({ clips: [], sets, unplaced: [], findings: [] }));
    const took = await page.evaluate<number>(`(() => {
      const find = document.getElementById("find"), start = performance.now();
      for (const text of ["1", "15", "155", "1555"]) { find.value = text; find.dispatchEvent(new Event("input", { bubbles: true })); document.body.offsetHeight; }
      return performance.now() - start;
    })()`);
    expect(await page.evaluate(SHOWN)).toEqual(['1555']);
    expect(took).toBeLessThan(5000);
  });
});
