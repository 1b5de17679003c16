import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SlateGrammar } from '../../../src/core/slate/grammar.ts';
import { isSlate, parseLeadingSlate, parseSlate, parseTake, slateSuspicion } from '../../../src/core/slate/parse-slate.ts';
import type { Slate } from '../../../src/core/slate/slate.ts';
import { formatSlate, setUpKey } from '../../../src/core/slate/slate.ts';
import { SLATE_GRAMMAR } from '../../support/make-clips.ts';

// How crews write slates is a habit of the trade: common practice, no source.

function read(text: string, over: Partial<SlateGrammar> = {}): Slate {
  const found = parseSlate(text, { ...SLATE_GRAMMAR, ...over });
  if (!isSlate(found)) throw new Error(`${text}: ${found.reason}`);
  return found;
}

function reason(text: string, over: Partial<SlateGrammar> = {}): string {
  const found = parseSlate(text, { ...SLATE_GRAMMAR, ...over });
  return isSlate(found) ? `read as ${formatSlate(found)}` : found.reason;
}

describe('slates as crews write them', () => {
  it.each([
    // written, key, take, suffix, pick-up, series
    ['27B-3', '27B', 3, '', false, false],
    ['27B/3', '27B', 3, '', false, false],
    ['27b tk 3', '27B', 3, '', false, false],
    ['27B take 3', '27B', 3, '', false, false],
    ['27BT3', '27B', 3, '', false, false],
    ['27B3', '27B', 3, '', false, false],
    ['27-B-3', '27B', 3, '', false, false],
    ['27 B 3', '27B', 3, '', false, false],
    ['027B-003', '27B', 3, '', false, false],
    ['A27C tk 4', 'A27C', 4, '', false, false],
    ['27AA/2', '27AA', 2, '', false, false],
    ['27A', '27A', undefined, '', false, false],
    ['27T-3', '27T', 3, '', false, false],
    ['27T3', '27', 3, '', false, false],
    ['12.5B-1', '12.5B', 1, '', false, false],
    ['27B-3 PU', '27B', 3, '', true, false],
    ['27B-3PU', '27B', 3, '', true, false],
    ['27B PU 3', '27B', 3, '', true, false],
    ['27BPU-3', '27B', 3, '', true, false],
    ['PU 27B-3', '27B', 3, '', true, false],
    ['27B-3 PU1', '27B', 3, '', true, false],
    ['27B-3 pick-up', '27B', 3, '', true, false],
    ['27B-3 SER', '27B', 3, '', false, true],
    ['27B-3 series', '27B', 3, '', false, true],
    ['slate 214 take 2', '214', 2, '', false, false],
    ['214/2', '214', 2, '', false, false],
    ['Scene 27B Take 3', '27B', 3, '', false, false],
    ['SC27B_T3', '27B', 3, '', false, false],
    ['VFX27B-3', 'VFX27B', 3, '', false, false],
    ['VFX 27B-3', 'VFX27B', 3, '', false, false],
    ['2U27B-3', '2U27B', 3, '', false, false],
    ['2U-3', '2U', 3, '', false, false],
    ['27B-SW-3', '27B', 3, 'SW', false, false],
    ['27B_CP 3', '27B', 3, 'CP', false, false],
    ['27B SW tk 2', '27B', 2, 'SW', false, false],
    ['27B.sw.2', '27B', 2, 'SW', false, false],
    ['27BSW-2', '27B', 2, 'SW', false, false],
    ['27B-3-CP', '27B', 3, 'CP', false, false],
    ['CP 27B-3', '27B', 3, 'CP', false, false],
    ['27CP-3', '27', 3, 'CP', false, false],
    ['27B\u20133', '27B', 3, '', false, false],
    ['27B \u2014 3', '27B', 3, '', false, false],
    ['\uFF12\uFF17B\u22123', '27B', 3, '', false, false],
  ] as const)('reads %s', (written, key, take, suffix, pickUp, series) => {
    const slate = read(written);
    expect({ key: setUpKey(slate), take: slate.take, suffix: slate.suffix, pickUp: slate.pickUp, series: slate.series }).toEqual({
      key,
      take,
      suffix,
      pickUp,
      series,
    });
    expect(slate.text).toBe(written);
  });

  it('keeps scene and set-up of a lettered slate apart, and has no scene for a running number', () => {
    expect(read('27B-3')).toMatchObject({ scene: '27', setUp: 'B' });
    expect(read('A27C-4')).toMatchObject({ scene: 'A27', setUp: 'C' });
    expect(read('214-2')).toMatchObject({ scene: '', setUp: '214' });
    expect(read('27-2', { style: 'scene-letter' })).toMatchObject({ scene: '27', setUp: '', take: 2 });
    expect(read('214A-2', { style: 'running' })).toMatchObject({ scene: '', setUp: '214A' });
  });

  it('keeps numbered set-ups apart from the scene', () => {
    expect(setUpKey(read('27 set-up 2 take 1'))).toBe('27-2');
    expect(setUpKey(read('272-1'))).toBe('272');
  });

  it.each([
    ['', 'nothing is written'],
    ['lead', 'does not begin with a scene or slate number'],
    ['27B-3-4', 'it names two takes, 3 and 4'],
    ['27.3', 'could be a decimal scene number or a take'],
    ['27B-SW-CP-1', 'it carries two suffixes, SW and CP'],
    ['27ABCD-1', 'too many letters for a set-up'],
    ['27B-3 maybe', '"MAYBE" is no take, suffix or other part of a slate'],
    ['27B take', '"TAKE" is no take'],
    [`27B${' '.repeat(200)}x`, 'too many for a slate'],
  ])('says why %j is no slate', (written, words) => {
    expect(reason(written)).toContain(words);
  });

  it('reads I and O, and says that they are not used', () => {
    expect(slateSuspicion(read('27I-2'), SLATE_GRAMMAR)).toContain('reads as 1');
    expect(slateSuspicion(read('27O-2'), SLATE_GRAMMAR)).toContain('reads as 0');
    expect(slateSuspicion(read('27I-2'), { ...SLATE_GRAMMAR, skippedLetters: '' })).toBeUndefined();
    expect(slateSuspicion(read('27B-2'), SLATE_GRAMMAR)).toBeUndefined();
  });

  it('reads the slate a longer text begins with', () => {
    expect(parseLeadingSlate('27B tk 2, same marks', SLATE_GRAMMAR)).toMatchObject({ slate: { take: 2 }, rest: 'SAME MARKS' });
  });

  it.each([['3', 3], ['003', 3], ['tk 3', 3], ['T3', 3], ['3 PU', 3]] as const)('reads %s in a take column', (written, take) => {
    expect(parseTake(written, SLATE_GRAMMAR)?.take).toBe(take);
  });

  it.each(['three', '', '3 of 4', '27B-3'])('takes %j for no take', (written) => {
    expect(parseTake(written, SLATE_GRAMMAR)).toBeUndefined();
  });
});

const letters = 'ABCDEFGHJKLMNPQRSTUVWXYZ'.split('');
// Set-ups of two letters that are words of the grammar would be read as those words.
const words = new Set(['SW', 'CP', 'EL', 'PU', 'TK']);
const setUps = fc
  .array(fc.constantFrom(...letters), { minLength: 1, maxLength: 2 })
  .map((each) => each.join(''))
  .filter((each) => !words.has(each));
const slates: fc.Arbitrary<Slate> = fc.record(
  {
    scene: fc.tuple(fc.constantFrom('', '', 'A', 'B'), fc.integer({ min: 1, max: 9999 })).map(([letter, number]) => `${letter}${number}`),
    setUp: setUps,
    take: fc.integer({ min: 0, max: 999 }),
    pickUp: fc.boolean(),
    series: fc.boolean(),
    prefix: fc.constantFrom('', 'VFX', '2U'),
    suffix: fc.constantFrom('', 'SW', 'CP', 'REF', 'EL'),
    text: fc.constant(''),
  },
  { requiredKeys: ['scene', 'setUp', 'pickUp', 'series', 'prefix', 'suffix', 'text'] },
);

describe('writing a slate and reading it back', () => {
  it('gives the same parts', () => {
    fc.assert(
      fc.property(slates, (slate) => {
        expect({ ...read(formatSlate(slate)), text: '' }).toEqual(slate);
      }),
      { numRuns: 2000 },
    );
  });

  it('gives the same parts for running numbers and numbered set-ups', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9999 }), fc.integer({ min: 1, max: 99 }), (number, take) => {
        const running = read(`${number}/${take}`);
        expect({ ...read(formatSlate(running)), text: '' }).toEqual({ ...running, text: '' });
        const numbered = { ...running, scene: String(number), setUp: String(take) };
        expect({ ...read(formatSlate(numbered)), text: '' }).toEqual({ ...numbered, text: '' });
      }),
    );
  });

  it('never throws, and what was read once is read the same again, whatever was written', () => {
    const scraps = fc.constantFrom('27', 'B', '3', '-', ' ', '/', '.', 'SW', 'pu', 'take', 'T', 'VFX', '2U', 'slate', 'set-up', '\u2013', 'x');
    const writings = fc.oneof(fc.string({ unit: 'grapheme', maxLength: 40 }), fc.array(scraps, { maxLength: 9 }).map((each) => each.join('')));
    fc.assert(
      fc.property(writings, (text) => {
        const found = parseSlate(text, SLATE_GRAMMAR);
        if (!isSlate(found)) return;
        expect({ ...read(formatSlate(found)), text: '' }).toEqual({ ...found, text: '' });
      }),
      { numRuns: 5000 },
    );
  });

  it('does not depend on case, kind of dash or the spaces round it', () => {
    fc.assert(
      fc.property(slates, fc.constantFrom('\u2010', '\u2013', '\u2014', '\u2212'), (slate, dash) => {
        const written = formatSlate(slate);
        const changed = ` ${written.toLowerCase().replaceAll('-', dash)} `;
        expect({ ...read(changed), text: '' }).toEqual({ ...read(written), text: '' });
      }),
    );
  });
});
