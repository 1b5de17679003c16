import { mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { BoardServer } from '../../../src/adapters/web/board-server.ts';
import type { JudgedDay } from '../../../src/core/checks/judged.ts';
import { formatBoard } from '../../../src/formats/board/board.ts';
import { hasBrowser, launchBrowser } from '../../support/browser.ts';
import { makeJudgedDay } from '../../support/make-judged.ts';

describe.skipIf(!hasBrowser())('the served board in a browser', { timeout: 180_000 }, () => {
  let browser: Browser;
  let context: BrowserContext;
  let folder: string;
  let errors: string[];
  let standing = 'watching 12 files';
  beforeAll(async () => {
    browser = await launchBrowser();
  });
  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'gemel-live-'));
    errors = [];
    context = await browser.newContext({ viewport: { width: 1400, height: 900 } });
  });
  afterEach(async () => {
    await context.close();
    rmSync(folder, { recursive: true, force: true });
  });
  afterAll(() => browser.close());

  /** As a watch does: whole, by renaming. */
  function put(day: JudgedDay): void {
    writeFileSync(join(folder, 'next'), formatBoard(day, { show: 'Saltmarsh Row', stills: new Map() }));
    renameSync(join(folder, 'next'), join(folder, 'board.html'));
  }

  const serve = async (host = '127.0.0.1'): Promise<BoardServer> => BoardServer.open({ folder, host, port: 0, standing: () => standing, onTrouble: (problem) => errors.push(String(problem)) });

  async function visit(url: string): Promise<Page> {
    const page = await context.newPage();
    page.on('console', (message) => message.type() === 'error' && errors.push(message.text()));
    page.on('pageerror', (problem) => errors.push(problem.message));
    page.on('request', (request) => !request.url().startsWith(new URL(url).origin) && !request.url().startsWith('data:') && errors.push(`asked for ${request.url()}`));
    await page.goto(url);
    return page;
  }

  it('appears by itself when the first sets are judged', async () => {
    await using server = await serve();
    const page = await visit(server.url);
    await page.getByText('There is no board yet').waitFor();
    put(makeJudgedDay());
    await page.getByRole('heading', { name: '27B camera A' }).waitFor();
    await page.getByText('Live: watching 12 files').waitFor();
    expect(errors).toEqual([]);
  });

  it('changes under the reader’s eyes, and keeps filter, place and focus', async () => {
    const day = makeJudgedDay();
    put(day);
    await using server = await serve();
    const page = await visit(server.url);
    await page.getByLabel('Camera', { exact: true }).selectOption('=A');
    await page.locator('#set-61-A .back a').focus();
    await page.evaluate('document.getElementById("set-61-A").scrollIntoView()');
    const topOf = 'document.getElementById("set-61-A").getBoundingClientRect().top';
    const before = await page.evaluate<number>(topOf);
    await page.evaluate('window.kept = document.getElementById("set-61-A")');
    // Camera B's set is gone, 31 now may not be struck and moves above 61, the first set has more to say.
    const [broken, clear, , handheld, head] = day.sets;
    if (broken === undefined || clear === undefined || handheld === undefined || head === undefined) throw new Error('the day has five sets');
    put({ ...day, sets: [{ ...broken, reason: 'a new reason '.repeat(60) }, { ...clear, verdict: 'no', reason: 'the lens was bumped' }, handheld, head] });
    await page.getByText('the lens was bumped').last().waitFor({ state: 'attached' });
    await page.waitForFunction('document.getElementById("shown").textContent === "4 of 4 sets shown"');
    expect(await page.evaluate('[...document.querySelectorAll("main > article")].map(({ id }) => id)')).toEqual(['set-27B-A', 'set-31-A', 'set-50C-A', 'set-61-A']);
    expect(await page.evaluate('[...document.querySelectorAll("#overview tbody tr")].map(({ id }) => id)')).toEqual(['row-set-27B-A', 'row-set-31-A', 'row-set-50C-A', 'row-set-61-A']);
    expect(await page.evaluate('window.kept === document.getElementById("set-61-A") && window.kept.contains(document.activeElement)')).toBe(true);
    expect(Math.abs((await page.evaluate<number>(topOf)) - before)).toBeLessThan(3);
    expect(await page.getByLabel('Camera', { exact: true }).inputValue()).toBe('=A');
    expect(await page.locator('.totals').innerText()).toMatch(/4\s+no/i);
    expect(errors).toEqual([]);
  });

  it('says that it is not live when the watch is gone, and is live again when it is back', async () => {
    put(makeJudgedDay());
    const server = await serve();
    const page = await visit(server.url);
    await page.getByText('Live: watching 12 files').waitFor();
    await server[Symbol.asyncDispose]();
    await page.getByRole('alert').getByText('Not live, what stands here may be old: no answer from the watch').waitFor();
    standing = 'judging 13 files';
    await using _again = await BoardServer.open({ folder, host: '127.0.0.1', port: Number(new URL(server.url).port), standing: () => standing, onTrouble: () => {} });
    await page.getByText('Live: judging 13 files').waitFor();
    expect(await page.getByRole('alert').count()).toBe(0);
  });

  it('opens with a token at the first go, and leads to the sheets', async () => {
    put(makeJudgedDay());
    await using server = await serve('0.0.0.0');
    const { port, search } = new URL(server.url);
    const page = await visit(`http://127.0.0.1:${port}/${search}`);
    expect(page.url()).toBe(`http://127.0.0.1:${port}/`);
    await page.getByText('Live: ').waitFor();
    expect(await page.evaluate('document.cookie')).toBe('');
    await page.getByRole('link', { name: 'Sheets and repeat cards' }).click();
    await page.getByRole('heading', { name: 'Sheets and repeat cards' }).waitFor();
    expect(errors).toEqual([]);
  });
});
