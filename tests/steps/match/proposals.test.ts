import { describe, expect, it } from 'vitest';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { GroupedDay } from '../../../src/core/material/day.ts';
import type { PlateSet, ProposedMatch } from '../../../src/core/material/plate-set.ts';
import type { MatchRules } from '../../../src/core/matching/match-rules.ts';
import { matchDay } from '../../../src/steps/match/match-day.ts';
import { method } from '../../support/make-clips.ts';
import type { PassFacts } from '../../support/make-sets.ts';
import { chosen, groupedDay, matchRules, pairCorrection, pass, plateSet } from '../../support/make-sets.ts';

const at = (minute: number): string => `${String(10 + Math.floor(minute / 60))}:${String(minute % 60).padStart(2, '0')}:00:00`;

function set(setUp: string, passes: readonly (readonly [PassFacts['role'], take: number, minute: number, over?: Partial<Clip>])[], over: Partial<PlateSet> = {}): PlateSet {
  return plateSet(passes.map(([role, take, minute, facts]) => pass({ role, take, setUp, at: at(minute), over: facts ?? {} })), { slate: setUp, ...over });
}

const proposals = (sets: readonly PlateSet[], rules: Partial<MatchRules> = {}, day: Partial<GroupedDay> = {}): readonly ProposedMatch[] =>
  matchDay(groupedDay(sets, day), matchRules(rules)).sets.flatMap(({ proposed }) => proposed);

const brief = (found: readonly ProposedMatch[]): readonly string[] => found.map(({ lead, clip }) => `${lead} + ${clip}`);

/** 27B lacks its swapped pass; a swapped pass slated 27D has no lead. */
const WANTING = set('27B', [['lead', 1, 0], ['clean', 3, 10]]);
const misread = (over: Partial<Clip> = {}, minute = 5): PlateSet => set('27D', [['swapped', 2, minute, over]]);

describe('proposals across set-ups', () => {
  it('offers a swapped pass without a lead to a lead without one, in words, and takes nothing', () => {
    const day = matchDay(groupedDay([WANTING, misread()]), matchRules());
    expect(day.sets[0]?.proposed).toEqual([
      {
        lead: 'A003C001_27B.mov', clip: 'A003C002_27D.mov', role: 'swapped',
        why:
          '27B-1 (A003C001_27B) has no swapped pass, and 27D-2 (A003C002_27D) has no lead in its own set-up: recorded 5 min apart on camera A; ' +
          'same lens, by its serial, same focal length, same frame rate, same sensor rate, same raster',
      },
    ]);
    expect(day.sets[0]?.matches[0]).not.toHaveProperty('swapped');
    expect(day.sets[1]?.leftOver).toHaveLength(1);
  });

  it('offers one cheapest assignment over the day, not the nearest pass to each lead', () => {
    // Nearest first would give 28's pass to 27 (3 min) and leave 28 with one that lies 56 min away.
    const sets = [set('27', [['lead', 1, 0]]), set('28', [['lead', 2, 6]]), set('91', [['swapped', 3, 3]]), set('92', [['swapped', 4, 62]]), set('93', [['swapped', 5, 118]])];
    const noClean = sets.map((one) => ({ ...one, method: method('split', { required: ['lead', 'swapped'] }) }));
    expect(brief(proposals(noClean))).toEqual(['A003C001_27.mov + A003C003_91.mov', 'A003C002_28.mov + A003C004_92.mov']);
    const without91 = noClean.filter(({ slate }) => slate !== '91');
    // 27 to 92 and 28 to 93 cost 62 + 112 min; 28 to 92 and 27 to 93 cost 56 + 118: the same, so the files decide. Without 93 the nearer lead gets it.
    expect(brief(proposals(without91.filter(({ slate }) => slate !== '93')))).toEqual(['A003C002_28.mov + A003C004_92.mov']);
  });

  it.each([
    ['another lens', { lens: { serial: chosen('9'), model: chosen('Prime 35'), focalLengthMm: chosen(35) } }],
    ['another focal length', { lens: { serial: chosen('4711'), focalLengthMm: chosen(50) } }],
    ['another rate', { rate: { num: 25, den: 1 } }],
    ['another raster', { picture: { raster: chosen({ width: 1920, height: 1080 }) } }],
    ['another camera', { camera: 'B' }],
    ['another role', { role: 'clean' as const }],
    ['no usable file', { usable: false }],
  ])('offers nothing that has %s', (_name, over) => {
    expect(proposals([set('27B', [['lead', 1, 0], ['clean', 3, 10]]), misread(over)])).toEqual([]);
  });

  it('offers nothing recorded more than two hours away, and asks for more nearness where less is known', () => {
    expect(proposals([WANTING, misread({}, 119)])).toHaveLength(1);
    expect(proposals([WANTING, misread({}, 121)])).toEqual([]);
    const unknown = { lens: {}, picture: {} };
    expect(proposals([WANTING, misread(unknown, 40)])).toHaveLength(1);
    expect(proposals([WANTING, misread(unknown, 60)])).toEqual([]);
  });

  it('counts the two hours across midnight', () => {
    const late = set('27B', [['lead', 1, 0, { start: { frame: 24 * 60 * (24 * 60 - 5), format: { base: 24, drop: false } } }]]);
    const early = set('27D', [['swapped', 2, 0, { start: { frame: 24 * 60 * 5, format: { base: 24, drop: false } } }]]);
    expect(proposals([late, early])).toHaveLength(1);
  });

  it('goes by clip numbers of one roll where there is no clock', () => {
    const unclocked = (role: PassFacts['role'], take: number, setUp: string, over: Partial<Clip> = {}): PlateSet =>
      plateSet([pass({ role, take, setUp, over })], { slate: setUp });
    expect(proposals([unclocked('lead', 1, '27B'), unclocked('swapped', 4, '27D')])[0]?.why).toContain('recorded 3 clips apart');
    expect(proposals([unclocked('lead', 1, '27B'), unclocked('swapped', 30, '27D')])).toEqual([]);
    expect(proposals([unclocked('lead', 1, '27B'), unclocked('swapped', 4, '27D', { roll: 'A004' })])).toEqual([]);
  });

  it('offers nothing that a correction forbids', () => {
    const corrections = [pairCorrection({ kind: 'forbid', lead: 'A003C001_27B.mov', clip: 'A003C002_27D.mov' })];
    expect(proposals([WANTING, misread()], { corrections })).toEqual([]);
  });

  it('offers a spare take of another set only where it was recorded nearer to the wanting lead than to its own', () => {
    const other = (minute: number): PlateSet => set('26', [['lead', 11, 60], ['swapped', 12, 65, { circled: true }], ['swapped', 13, minute], ['clean', 14, 70]]);
    const near = proposals([WANTING, other(5)]);
    expect(brief(near)).toEqual(['A003C001_27B.mov + A003C013_26.mov']);
    expect(near[0]?.why).toContain('was recorded nearer to it than to the leads of its own set-up');
    expect(proposals([WANTING, other(50)])).toEqual([]);
  });

  it('leaves a pass with the lead of its own set though that cannot be used', () => {
    const cutOff = set('27D', [['lead', 4, 6, { usable: false }], ['swapped', 2, 5]]);
    expect(proposals([WANTING, cutOff])).toEqual([]);
  });

  it('offers a pass without a slate', () => {
    const { slate: _slate, ...unslated } = pass({ role: 'swapped', take: 2, at: at(5) });
    const day = groupedDay([WANTING]);
    const found = proposals([WANTING], {}, { clips: [...day.clips, unslated], unplaced: [{ clip: unslated.id, why: 'no slate' }] });
    expect(found[0]?.why).toContain('A003C002_27B has no slate');
  });

  it('asks only for what the method needs, and for circled leads alone where there are any', () => {
    const element = method('screen-element', { required: ['lead', 'element'], wanted: ['clean'] });
    expect(proposals([set('27B', [['lead', 1, 0], ['element', 2, 4], ['clean', 3, 10]], { method: element }), misread()])).toEqual([]);
    const two = set('27B', [['lead', 1, 4], ['lead', 9, 0, { circled: true }], ['clean', 3, 10]]);
    expect(brief(proposals([two, misread()]))).toEqual(['A003C009_27B.mov + A003C002_27D.mov']);
  });
});
