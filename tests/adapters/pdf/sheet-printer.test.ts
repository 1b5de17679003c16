import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openFonts } from '../../../src/adapters/pdf/fonts.ts';
import { PdfSheetPrinter } from '../../../src/adapters/pdf/sheet-printer.ts';
import { defaultOptics } from '../../support/optics-settings.ts';
import type { JudgedSet } from '../../../src/core/checks/judged.ts';
import { stillKey } from '../../../src/formats/sheet/content.ts';
import { repeatCard } from '../../../src/formats/sheet/repeat-card.ts';
import { sheetContents } from '../../../src/formats/sheet/sheet-contents.ts';
import { plannedStills } from '../../../src/formats/sheet/stills.ts';
import { DEFAULT_CARD_TEMPLATE, DEFAULT_SHEET_TEMPLATE } from '../../../src/formats/sheet/template.ts';
import { brokenSplit, clearSplit, finding, handheldWithoutSwap, headReplacement, makeJudgedDay } from '../../support/make-judged.ts';
import { outsideProgram } from '../../support/outside.ts';
import { shuffledDay } from '../../support/shuffle-day.ts';

const poppler = outsideProgram('pdftotext') && outsideProgram('pdffonts');
const printer = new PdfSheetPrinter();
const SHOW = { show: 'Tidewrack' };
const NO_STILLS = new Map<string, Uint8Array>();
/** A grey JPEG of one pixel, baseline. */
const GREY = Uint8Array.from(Buffer.from('/9j/4AAQSkZJRgABAQEASABIAAD/2wBDAAgGBgcGBQgHBwcJCQgKDBQNDAsLDBkSEw8UHRofHh0aHBwgJC4nICIsIxwcKDcpLDAxNDQ0Hyc5PTgyPC4zNDL/wAALCAABAAEBAREA/8QAFAABAAAAAAAAAAAAAAAAAAAACf/EABQQAQAAAAAAAAAAAAAAAAAAAAD/2gAIAQEAAD8AVN//2Q==', 'base64'));

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'gemel-pdf-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function sheetOf(judged: JudgedSet, over: Partial<typeof DEFAULT_SHEET_TEMPLATE> = {}) {
  return sheetContents(judged, { ...DEFAULT_SHEET_TEMPLATE, ...over }, SHOW);
}

function ask(program: string, args: readonly string[], pdf: Uint8Array): string {
  const file = join(folder, 'page.pdf');
  writeFileSync(file, pdf);
  return execFileSync(program, args.map((argument) => (argument === 'FILE' ? file : argument)), { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
}

const textOf = (pdf: Uint8Array): string => ask('pdftotext', ['-layout', 'FILE', '-'], pdf);
const pagesOf = (pdf: Uint8Array): number => Number(/Pages:\s+(\d+)/.exec(ask('pdfinfo', ['FILE'], pdf))?.[1]);

describe.skipIf(!poppler)('a printed sheet, opened by poppler', () => {
  it('gives its text back, in Latin, Greek and Cyrillic', async () => {
    const text = textOf(await printer.print(sheetOf(clearSplit()), NO_STILLS));
    for (const words of ['CLEAR TO STRIKE', 'YES', 'swapped frame = lead frame + 3', '09:00:05:18', 'Το φως από το παράθυρο', 'Дублёрша стоит слева', 'page 1 of']) expect(text).toContain(words);
  });

  it('ends no page with the heading of a section', async () => {
    const sheet = sheetOf(brokenSplit());
    const headings = sheet.sections.map(({ heading }) => heading);
    for (let lines = 0; lines < 64; lines += 9) {
      const pushed = { ...sheet, sections: [{ heading: 'Pushed down', blocks: Array.from({ length: lines }, () => ({ kind: 'text', text: 'a line' }) as const) }, ...sheet.sections] };
      for (const page of textOf(await printer.print(pushed, NO_STILLS)).split('\f')) {
        const written = page.split('\n').map((line) => line.trim()).filter((line) => line !== '');
        const foot = written.findIndex((line) => /page \d+ of/.test(line));
        const last = written[foot - 1];
        if (last !== undefined) expect(headings, `${lines} lines down`).not.toContain(last);
      }
    }
  });

  it('embeds every font it uses, as subsets with a map back to Unicode', async () => {
    const fonts = ask('pdffonts', ['FILE'], await printer.print(sheetOf(headReplacement()), NO_STILLS)).split('\n').slice(2).filter((line) => line !== '');
    expect(fonts.length).toBeGreaterThanOrEqual(2);
    for (const font of fonts) expect(font).toMatch(/\byes yes yes\b/);
  });

  it('is the size of its paper: A4 of ISO 216, or US Letter', async () => {
    const sizeOf = async (paper: 'A4' | 'Letter') => /Page size:\s+([\d.]+) x ([\d.]+)/.exec(ask('pdfinfo', ['FILE'], await printer.print(sheetOf(clearSplit(), { paper }), NO_STILLS)))?.slice(1).map((points) => Math.round(Number(points)));
    expect(await sizeOf('A4')).toEqual([595, 842]);
    expect(await sizeOf('Letter')).toEqual([612, 792]);
  });

  it('says on every page which sheet it is, which page, and that it clears nothing for safety', async () => {
    const pages = textOf(await printer.print(sheetOf(brokenSplit()), NO_STILLS)).split('\f').slice(0, -1);
    expect(pages.length).toBeGreaterThan(1);
    pages.forEach((page, index) => {
      expect(page).toContain(`page ${index + 1} of ${pages.length}`);
      expect(page).toContain('Tidewrack · 27B-A · revision ');
      expect(page).toContain('It clears nothing for safety');
    });
  });

  it('has a title, bookmarks for its sections and a structure for readers who do not see it', async () => {
    const pdf = await printer.print(sheetOf(brokenSplit()), NO_STILLS);
    const about = ask('pdfinfo', ['FILE'], pdf);
    expect(about).toMatch(/Title:\s+Plate sheet 27B, Tidewrack/);
    expect(about).toMatch(/Tagged:\s+yes/);
    const structure = ask('pdfinfo', ['-struct-text', 'FILE'], pdf);
    for (const element of ['Document', 'H1 ', 'H2 ', 'Table', 'TH', 'Figure']) expect(structure).toContain(element);
    expect(structure).toMatch(/H1[^"]*"27B"/);
    // Each bookmark has a destination: the sheet, and every section that has something in it (along, marks and measured have not).
    expect(Buffer.from(pdf).toString('latin1').match(/\/Dest \[/g)).toHaveLength(1 + DEFAULT_SHEET_TEMPLATE.sections.length - 3);
  });

  it('wraps long texts, and goes on over as many pages as many findings take', async () => {
    const words = Array.from({ length: 400 }, (_, index) => `word${index}`).join(' ');
    const many = Array.from({ length: 60 }, (_, index) => finding('focus-differs', 'warn', ['A_0003/A003C012_261125_R7QK.mov'], { value: index, unit: 'px' }, { value: 1, unit: 'px' }, `finding ${index} of many`, 'look', []));
    const unbroken = 'x'.repeat(900);
    const judged = { ...brokenSplit(), findings: [...brokenSplit().findings, ...many, finding('unknown-slate', 'note', [], undefined, undefined, words, unbroken, [])] };
    const pdf = await printer.print(sheetOf(judged), NO_STILLS);
    expect(pagesOf(pdf)).toBeGreaterThan(6);
    const text = textOf(pdf);
    for (let index = 0; index < 60; index += 1) expect(text).toContain(`finding ${index} of many`);
    for (let index = 0; index < 400; index += 1) expect(text).toContain(`word${index}`);
    expect(text.replaceAll(/\s/g, '').match(/x{3,}/g)?.join('').length).toBe(900);
  });

  it('holds from one clip to twelve passes', async () => {
    const { matched } = clearSplit();
    const [lead] = matched.set.clips;
    if (lead === undefined) throw new Error('the fixture has clips');
    const alone: JudgedSet = { ...clearSplit(), matched: { ...matched, set: { ...matched.set, clips: [lead] }, matches: [] }, coverage: [], countingLeads: [] };
    expect(textOf(await printer.print(sheetOf(alone), NO_STILLS))).toContain('There is no lead pass to lay the others under.');
    const twelve = textOf(await printer.print(sheetOf(headReplacement()), NO_STILLS));
    for (let take = 1; take <= 12; take += 1) expect(twelve).toContain(`A006C${String(take).padStart(3, '0')}_261125_R7QK`);
    expect(twelve).toContain('not decodable here');
  });

  it('prints letters of any script when its font of last resort is there, and else a box and their numbers', async () => {
    const without = textOf(await new PdfSheetPrinter(() => openFonts(null)).print(sheetOf(headReplacement()), NO_STILLS));
    expect(without).toContain('▯▯▯▯▯▯');
    expect(without.replaceAll(/\s+/g, ' ')).toContain('▯ stands for a letter that no installed font has: U+304B U+306F U+3089 U+660E U+7167 U+7A93.');
  });

  it.skipIf(openFonts().fallback() === undefined)('prints Japanese, Korean, Hindi and emoji with the font of last resort', async () => {
    const judged = clearSplit();
    const clips = judged.matched.set.clips.map((clip) => ({ ...clip, notes: ['照明は窓から', '한글', 'हिन्दी', '🎬 take'] }));
    const pdf = await printer.print(sheetOf({ ...judged, matched: { ...judged.matched, set: { ...judged.matched.set, clips } } }), NO_STILLS);
    for (const words of ['照明は窓から', '한글', '🎬 take']) expect(textOf(pdf)).toContain(words);
    expect(textOf(pdf)).not.toContain('▯');
  });

  it('shows control characters instead of obeying them', async () => {
    const text = textOf(await printer.print(sheetOf({ ...clearSplit(), reason: 'odd\u0000 \u001b[2J \u202etxt' }), NO_STILLS));
    expect(text).toContain('Odd<U+0000> <U+001B>[2J <U+202E>txt.');
  });
});

describe.skipIf(!poppler)('a printed repeat card, opened by poppler', () => {
  const card = (judged: JudgedSet, paper: 'A4' | 'Letter' = 'A4') => {
    const content = repeatCard(judged, { ...DEFAULT_CARD_TEMPLATE, paper }, { ...SHOW, optics: defaultOptics() });
    if (content === undefined) throw new Error('the set lacks a pass');
    return printer.print(content, NO_STILLS);
  };

  it('is one page on either paper, with all the crew must repeat', async () => {
    for (const paper of ['A4', 'Letter'] as const) {
      const pdf = await card(handheldWithoutSwap(), paper);
      expect(pagesOf(pdf)).toBe(1);
      for (const words of ['Shoot the swapped pass', 'Prime 25', 'T2', '172.8°', '312 frames = 13.0 s = TC 00:00:13:00', 'B door', 'left foot on blue', 'Not on record', '± 0.5 mm', '5′ 7″']) expect(textOf(pdf)).toContain(words);
    }
  });

  it('takes smaller type rather than a second page when there are many marks', async () => {
    const [mark] = handheldWithoutSwap().marks;
    if (mark === undefined) throw new Error('the fixture has marks');
    const marks = Array.from({ length: 10 }, (_, index) => ({ ...mark, mark: `mark ${index}`, timeS: index }));
    expect(pagesOf(await card({ ...handheldWithoutSwap(), marks }))).toBe(1);
  });
});

describe('the bytes of a sheet', () => {
  it('are the same twice, from a new printer, and after other sheets', async () => {
    const content = sheetOf(brokenSplit());
    const stills = new Map(plannedStills(brokenSplit()).map((still) => [stillKey(still), GREY]));
    const first = await new PdfSheetPrinter().print(content, stills);
    const used = new PdfSheetPrinter();
    // Letters with accents are drawn from the letters without: what one sheet prints must not name the glyphs of the next.
    await used.print(sheetOf({ ...clearSplit(), reason: 'Édité à la hâte: ÀÉÎÕÜ fi ffl' }), NO_STILLS);
    for (const other of makeJudgedDay().sets) await used.print(sheetOf(other), NO_STILLS);
    expect(Buffer.compare(await used.print(content, stills), first)).toBe(0);
    expect(Buffer.compare(await used.print(content, stills), first)).toBe(0);
  });

  it('are the same whatever the order of the day', async () => {
    const day = makeJudgedDay();
    for (const judged of shuffledDay(day, 11).sets) {
      const original = day.sets.find(({ matched }) => matched.set.id === judged.matched.set.id);
      if (original === undefined) throw new Error('shuffling loses no set');
      expect(Buffer.compare(await printer.print(sheetOf(judged), NO_STILLS), await printer.print(sheetOf(original), NO_STILLS))).toBe(0);
    }
  });

  it('go on with an empty box when a still is no picture', async () => {
    const broken = new Map(plannedStills(clearSplit()).map((still) => [stillKey(still), Uint8Array.from([0xff, 0xd8, 0xff, 1, 2, 3])]));
    const pdf = await printer.print(sheetOf(clearSplit()), broken);
    expect(pdf.length).toBeGreaterThan(10_000);
    if (poppler) expect(textOf(pdf)).toContain('not decodable here');
  });
});
