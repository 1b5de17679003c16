import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { CostTerm } from '../../../src/core/material/plate-set.ts';
import { costOf } from '../../../src/core/matching/cost.ts';
import { leadsBetween } from '../../../src/core/matching/leads-between.ts';
import { recordingOf } from '../../../src/core/matching/recording.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { slate } from '../../support/make-clips.ts';
import { chosen, matchRules, pass } from '../../support/make-sets.ts';

const LEAD = pass({ role: 'lead', take: 1, at: '10:00:00:00' });
const HELD: CostTerm = { name: 'coverage', cost: 0, words: 'covers all that is needed' };

function priceOf(clip: Clip, coverage: CostTerm = HELD, others: readonly Clip[] = []) {
  const recording = recordingOf([LEAD, clip, ...others]);
  const leads = recording.order.filter(({ role }) => role === 'lead');
  return costOf({ lead: LEAD, clip, role: clip.role }, coverage, { recording, leadBetween: leadsBetween(recording, leads), tolerances: matchRules().tolerances });
}

const swapped = (over: Partial<Clip> = {}, at = '10:05:00:00'): Clip => pass({ role: 'swapped', take: 2, at, over: { circled: true, ...over } });
const cost = (over: Partial<Clip>, coverage?: CostTerm, at?: string): number => priceOf(swapped(over, at), coverage).cost;
const lens = (over: Partial<Clip['lens']>): Partial<Clip> => ({ lens: { ...swapped().lens, ...over } });

/** From best to worst fault, what each costs alone; the recording order is judged apart. */
const FAULTS: readonly (readonly [string, Partial<Clip>, number])[] = [
  ['another take named on its slate', { forSlate: slate('27B', 9) }, 400],
  ['not circled', { circled: false }, 200],
  ['another lens', lens({ serial: chosen('4712') }), 20],
  ['another focal length', lens({ focalLengthMm: chosen(40) }), 20],
  ['another frame rate', { rate: frameRate(25) }, 20],
  ['another sensor rate', { sensorRate: frameRate(48) }, 20],
  ['another raster', { picture: { raster: chosen({ width: 2048, height: 1080 }) } }, 20],
  ['a pick-up', { slate: slate('27B', 2, { pickUp: true }) }, 2],
];

describe('the cost of a pass', () => {
  it.each(FAULTS)('rises for %s alone', (_name, over, points) => {
    expect(cost(over) - cost({})).toBeCloseTo(points, 6);
  });

  it('is less than a quarter of a point for a circled pass like its lead in all things', () => {
    expect(cost({})).toBeGreaterThan(0);
    expect(cost({})).toBeLessThan(0.25);
  });

  it('puts circled before everything the camera can say, and a named take before circled', () => {
    const all = { ...lens({ serial: chosen('1'), focalLengthMm: chosen(40) }), rate: frameRate(25), sensorRate: frameRate(48), picture: { raster: chosen({ width: 1, height: 1 }) } };
    const worst: CostTerm = { name: 'coverage', cost: 12, words: '' };
    const late = '21:00:00:00';
    expect(cost({ ...all, slate: slate('27B', 2, { pickUp: true }) }, worst, late)).toBeLessThan(cost({ circled: false }));
    const worstUncircled = { ...all, circled: false, slate: slate('27B', 2, { pickUp: true }) };
    expect(cost(worstUncircled, worst, late)).toBeLessThan(cost({ forSlate: slate('27B', 9) }));
    expect(cost({ ...worstUncircled, forSlate: slate('27B', 1) }, worst, late)).toBeLessThan(cost({}));
  });

  it('puts one unlike thing before a missing cut range, and that before order and time', () => {
    const missingAll: CostTerm = { name: 'coverage', cost: 12, words: '' };
    const missingOne: CostTerm = { name: 'coverage', cost: 10, words: '' };
    const late = '21:00:00:00';
    const pickUp = { slate: slate('27B', 2, { pickUp: true, suffix: 'SW', text: '27B-2SW' }) };
    expect(cost(pickUp, missingAll, late)).toBeLessThan(cost({ rate: frameRate(25) }));
    expect(cost(pickUp, HELD, '09:00:00:00')).toBeLessThan(cost({}, missingOne));
  });

  it('decides nothing by time, by missing handles and by what is not stated, even together', () => {
    const silent: Partial<Clip> = { lens: {}, picture: {} };
    const { sensorRate: _sensor, rate: _rate, ...bare } = swapped(silent, '21:59:00:00');
    const worst = priceOf(bare, { name: 'coverage', cost: 0.25, words: '' }).cost;
    expect(worst - cost({}, HELD, '10:00:10:00')).toBeLessThan(1);
  });

  it('falls the nearer a pass was recorded', () => {
    const costs = ['10:00:10:00', '10:00:10:01', '10:05:00:00', '11:00:00:00', '20:00:00:00'].map((at) => cost({}, HELD, at));
    expect(costs).toEqual(costs.toSorted((a, b) => a - b));
    expect(new Set(costs).size).toBe(costs.length);
  });

  it('does not mind a lens written another way, a rate menus round, or names by two hands', () => {
    const named = (text: string) => ({ ...chosen(text), source: { kind: 'embedded' as const, file: 'x.mov', place: '' } });
    expect(cost(lens({ model: chosen('PRIME-35') }))).toBe(cost({}));
    expect(cost({ sensorRate: frameRate(24000, 1001) })).toBe(cost({}));
    const { serial: _serial, ...unnumbered } = swapped().lens;
    expect(cost({ lens: { ...unnumbered, model: named('P35 mk II') } }) - cost({})).toBeCloseTo(0.1, 6);
    expect(cost({ lens: { ...unnumbered, model: chosen('P35 mk II') } }) - cost({})).toBeCloseTo(20, 6);
  });

  it('rises when another lead take was recorded in between, and when the pass came first', () => {
    const second = pass({ role: 'lead', take: 7, at: '10:02:00:00' });
    const after = priceOf(swapped()).cost;
    expect(priceOf(swapped(), HELD, [second]).cost - after).toBeCloseTo(2, 6);
    expect(priceOf(swapped({}, '09:55:00:00')).cost - after).toBeCloseTo(2, 6);
  });

  it('takes the number on a slate for the lead take only when the suffix stands behind it', () => {
    const suffixed = (text: string, take: number): number => cost({ slate: slate('27B', take, { suffix: 'SW', text }) });
    expect(suffixed('27B-1SW', 1)).toBe(cost({}));
    expect(suffixed('27B-3 SW', 3) - cost({})).toBeCloseTo(2, 6);
    expect(suffixed('27BSW-3', 3)).toBe(cost({}));
  });

  it('is the sum of its terms, whatever they are', () => {
    const faults = fc.subarray(FAULTS.map(([, over]) => over));
    fc.assert(
      fc.property(faults, (overs) => {
        const { cost: total, terms } = priceOf(swapped(Object.assign({}, ...overs) as Partial<Clip>));
        expect(terms.reduce((sum, term) => sum + term.cost, 0)).toBeCloseTo(total, 6);
        expect(terms.every(({ words }) => words !== '')).toBe(true);
      }),
      { numRuns: 100, seed: 4 },
    );
  });

  it('is told in words a person can check', () => {
    const { terms } = priceOf(swapped(lens({ serial: chosen('4712') })));
    expect(terms.map(({ words }) => words)).toEqual([
      'circled',
      'lens differs: serial 4712, the lead has serial 4711',
      'same focal length',
      'same frame rate',
      'same sensor rate',
      'same raster',
      'covers all that is needed',
      'recorded after this lead and before the next',
      'recorded 5 min after the lead',
    ]);
  });
});
