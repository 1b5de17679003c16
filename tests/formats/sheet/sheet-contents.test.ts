import { describe, expect, it } from 'vitest';
import { sheetContents } from '../../../src/formats/sheet/sheet-contents.ts';
import { DEFAULT_SHEET_TEMPLATE } from '../../../src/formats/sheet/template.ts';
import { ambiguousMoco, brokenSplit, clearSplit, handheldWithoutSwap, headReplacement, makeJudgedDay } from '../../support/make-judged.ts';
import { shuffledDay } from '../../support/shuffle-day.ts';

const SHOW = { show: 'Tidewrack' };
const contents = (judged: ReturnType<typeof brokenSplit>) => sheetContents(judged, DEFAULT_SHEET_TEMPLATE, SHOW);
const sectionOf = (judged: ReturnType<typeof brokenSplit>, heading: string) => contents(judged).sections.find((section) => section.heading === heading)?.blocks ?? [];

describe('what stands on a sheet', () => {
  it('puts the verdict and its reason at the top', () => {
    expect(contents(brokenSplit()).heading).toMatchObject({
      title: 'Plate sheet', show: 'Tidewrack', name: '27B', beside: 'camera A',
      verdict: { verdict: 'no', question: 'Clear to strike', answer: 'NO', reason: 'the swapped pass lacks 13 frames at the tail of TWR_027_0020' },
    });
    expect(contents(clearSplit()).heading.verdict.answer).toBe('YES');
    expect(contents(ambiguousMoco()).heading.verdict.answer).toBe('LOOK');
  });

  it('says how each pass lies under the lead, by what evidence, and what else could have been chosen', () => {
    const [table] = sectionOf(brokenSplit(), 'What you get, and how it fits together');
    if (table?.kind !== 'table') throw new Error('the summary begins with a table');
    expect(table.rows[1]?.map(({ text, note }) => [text, note])).toEqual([
      ['swapped pass', '27B take 4, circled'],
      ['A003C013_261125_R7QK.mov', 'next best: A003C011_261125_R7QK.mov'],
      ['swapped frame = lead frame − 6', 'set by hand: the hand clap in both passes'],
      ['stated: corrections file', undefined],
    ]);
  });

  it('has a line for a pass that is not there', () => {
    const [table, line] = sectionOf(handheldWithoutSwap(), 'What you get, and how it fits together');
    if (table?.kind !== 'table') throw new Error('the summary begins with a table');
    expect(table.rows.at(-1)?.slice(0, 2)).toEqual([{ text: 'swapped pass', tone: 'strong' }, { text: 'not there', tone: 'strong', differs: true }]);
    expect(line).toMatchObject({ kind: 'text', text: 'Still to be shot for this method: swapped pass.' });
  });

  it('gives timecode out as the last frame that is in', () => {
    const [table] = sectionOf(brokenSplit(), 'Plates');
    if (table?.kind !== 'table') throw new Error('plates are a table');
    expect(table.columns[3]?.heading).toBe('TC out (last frame)');
    // 240 frames from 14:22:33:04 at 24 labels a second: the last is 239 frames on, 9 s 23 f later (SMPTE ST 12-1).
    expect(table.rows[1]?.slice(2, 6).map(({ text }) => text)).toEqual(['14:22:33:04', '14:22:43:03', '240', '0–239']);
  });

  it('says which frames of each pass to take, on its own count and timecode', () => {
    const table = sectionOf(brokenSplit(), 'Coverage')[1];
    if (table?.kind !== 'table') throw new Error('under the drawing stands a table');
    expect(table.rows.map((row) => row.map(({ text }) => text))).toEqual([
      ['lead pass', '36 – 159', '14:22:34:16 – 14:22:39:19', 'holds the range'],
      ['swapped pass', '30 – 153', '14:31:11:18 – 14:31:16:21', 'holds the range'],
      ['clean plate', '36 – 119', '14:40:01:12 – 14:40:04:23', '120 frames serve for all, the camera being locked off'],
    ]);
  });

  it('compares many passes in several tables, the lead first in each', () => {
    const tables = sectionOf(headReplacement(), 'Lens and camera compared').filter(({ kind }) => kind === 'table');
    expect(tables.map((table) => (table.kind === 'table' ? table.columns.map(({ heading }) => heading.split('\n')[0]) : []))).toEqual([
      ['', 'lead pass', 'swapped pass', 'clean plate', 'element'],
      ['', 'lead pass', 'element', 'element'],
    ]);
  });

  it('shows every correction with who and why', () => {
    const [table] = sectionOf(brokenSplit(), 'Corrections used');
    if (table?.kind !== 'table') throw new Error('corrections are a table');
    expect(table.rows[0]?.map(({ text }) => text)).toEqual([
      'frame of A003C013_261125_R7QK.mov = frame of A003C012_261125_R7QK.mov − 6', 'Lena Okafor, DIT', 'hand clap seen in both passes', 'corrections.yaml, line 12',
    ]);
  });

  it('takes sections, order and words from the template, and leaves out what is empty', () => {
    const template = { ...DEFAULT_SHEET_TEMPLATE, sections: ['sign-off', 'marks', 'findings'], headings: { findings: 'What is wrong' }, question: 'Abbau frei', paper: 'Letter' } as const;
    const sheet = sheetContents(clearSplit(), template, SHOW);
    expect(sheet.sections.map(({ heading }) => heading)).toEqual(['Sign-off', 'What is wrong']);
    expect(sheet.paper).toBe('Letter');
    expect(sheet.heading.verdict.question).toBe('Abbau frei');
  });

  it('has a revision that changes with the contents and with nothing else', () => {
    const revisionOf = (judged: ReturnType<typeof brokenSplit>) => contents(judged).heading.facts.at(-1);
    expect(revisionOf(brokenSplit())).toEqual(revisionOf(brokenSplit()));
    expect(revisionOf(brokenSplit())?.value).toMatch(/^[0-9A-F]{4}(-[0-9A-F]{4}){3}$/);
    expect(revisionOf({ ...brokenSplit(), reason: 'another' })).not.toEqual(revisionOf(brokenSplit()));
  });

  it('is the same whatever the order of the day', () => {
    const day = makeJudgedDay();
    const byId = (sets: typeof day.sets) => sets.toSorted((a, b) => (a.matched.set.id < b.matched.set.id ? -1 : 1)).map(contents);
    expect(JSON.stringify(byId(shuffledDay(day, 5).sets))).toBe(JSON.stringify(byId(day.sets)));
  });
});
