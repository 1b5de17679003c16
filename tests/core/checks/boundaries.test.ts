import { describe, expect, it } from 'vitest';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { Severity } from '../../../src/core/material/finding.ts';
import type { Tolerances } from '../../../src/core/material/tolerance.ts';
import { checkDay } from '../../../src/steps/check/check-day.ts';
import { checkRules, chosen, makeFullClip, makeMatchedDay, makeSet } from '../../support/make-matched.ts';

const FULL = makeFullClip(2, 'swapped');

/** A tolerance, the code it belongs to, and the swapped pass that lies off the lead by `by` in the tolerance's unit. */
const NUMBERS: readonly (readonly [keyof Tolerances, string, (by: number) => Partial<Clip>])[] = [
  ['focalLengthPercent', 'focal-length-differs', (by) => ({ lens: { ...FULL.lens, focalLengthMm: chosen(35 * (1 + by / 100)) } })],
  ['focusDioptre', 'focus-differs', (by) => ({ lens: { ...FULL.lens, focusDistanceM: chosen(1 / (1 / 3 + by)) } })],
  ['stopStops', 'stop-differs', (by) => ({ lens: { ...FULL.lens, stop: chosen({ kind: 'T' as const, number: Math.SQRT2 ** (3 + by) }) } })],
  ['ndStops', 'filter-differs', (by) => ({ lens: { ...FULL.lens, filters: chosen({ text: `ND${0.6 + by * Math.log10(2)}`, ndDensity: 0.6 + by * Math.log10(2) }) } })],
  ['shutterDeg', 'shutter-differs', (by) => ({ exposure: { ...FULL.exposure, shutterDeg: chosen(180 - by) } })],
  ['eiStops', 'sensitivity-differs', (by) => ({ exposure: { ...FULL.exposure, ei: chosen(800 * 2 ** by) } })],
  ['whiteBalanceK', 'white-balance-differs', (by) => ({ exposure: { ...FULL.exposure, whiteBalanceK: chosen(5600 - by) } })],
  ['heightMm', 'height-differs', (by) => ({ position: { ...FULL.position, heightM: chosen(1.5 + by / 1000) } })],
  ['tiltDeg', 'tilt-differs', (by) => ({ position: { ...FULL.position, tiltDeg: chosen(-2 - by) } })],
  ['rollDeg', 'roll-differs', (by) => ({ position: { ...FULL.position, rollDeg: chosen(360 - by) } })],
  ['distanceMm', 'position-differs', (by) => ({ position: { ...FULL.position, backgroundDistanceM: chosen(6 + by / 1000) } })],
];

/** Where a value is written to four decimals or more, so is the difference. */
const STEP = 1e-3;

/** Without a raster no px are known, so the tolerance in the value's own unit decides. */
const NO_PX: Partial<Clip> = { picture: {} };

function severityAt(code: string, over: Partial<Clip>): Severity | 'none' {
  const set = makeSet({ clips: [makeFullClip(1, 'lead', NO_PX), makeFullClip(2, 'swapped', { ...NO_PX, ...over }), makeFullClip(3, 'clean', NO_PX)] });
  const findings = checkDay(makeMatchedDay([set]), checkRules()).sets[0]?.findings ?? [];
  expect(findings.every((finding) => finding.code === code)).toBe(true);
  return findings[0]?.severity ?? 'none';
}

describe.each(NUMBERS)('the tolerance %s, where px are not known', (name, code, off) => {
  const tolerance = checkRules().tolerances[name];
  if (typeof tolerance === 'number') throw new Error('a tolerance with two limits was expected');
  const { warn, stop } = tolerance;

  it('finds nothing at equal values, below its first limit and on it', () => {
    expect([0, warn * (1 - STEP), warn].map((by) => severityAt(code, off(by)))).toEqual(['none', 'none', 'none']);
  });

  it('asks a person to look just above its first limit and up to its second', () => {
    // Stops read off marks are nominal: what comes within a twentieth of the second limit has reached it.
    const nominal = name === 'stopStops' || name === 'ndStops';
    const upTo = nominal ? [stop * 0.94] : [stop * (1 - STEP), stop];
    expect([warn * (1 + STEP), ...upTo].map((by) => severityAt(code, off(by)))).toEqual(['warn', ...upTo.map(() => 'warn')]);
    if (nominal) expect([stop * 0.96, stop].map((by) => severityAt(code, off(by)))).toEqual(['stop', 'stop']);
  });

  it('is a stop just above its second limit', () => {
    expect([stop * (1 + STEP), stop * 2].map((by) => severityAt(code, off(by)))).toEqual(['stop', 'stop']);
  });

  it('follows the pipeline file', () => {
    const set = makeSet({ clips: [makeFullClip(1, 'lead', NO_PX), makeFullClip(2, 'swapped', { ...NO_PX, ...off(stop * 2) }), makeFullClip(3, 'clean', NO_PX)] });
    const rules = checkRules();
    const wide = { ...rules, tolerances: { ...rules.tolerances, [name]: { warn: stop * 3, stop: stop * 4 } } };
    expect(checkDay(makeMatchedDay([set]), wide).sets[0]?.findings).toEqual([]);
  });
});

describe('limits that are no tolerance', () => {
  it('a clean plate of the least number of frames is enough when locked off, one frame less is not', () => {
    const clean = (frames: number): Severity | 'none' => {
      const set = makeSet({ clips: [makeFullClip(1, 'lead'), makeFullClip(2, 'swapped'), makeFullClip(3, 'clean', { frames })] });
      return checkDay(makeMatchedDay([set]), checkRules()).sets[0]?.findings[0]?.severity ?? 'none';
    };
    expect([25, 24, 23, 1].map(clean)).toEqual(['none', 'none', 'stop', 'stop']);
  });

  it('a margin on the threshold decides, a smaller one is ambiguous', () => {
    const margin = (value: number): readonly string[] => {
      const other = makeFullClip(4, 'swapped');
      const set = makeSet({
        clips: [makeFullClip(1, 'lead'), makeFullClip(2, 'swapped'), makeFullClip(3, 'clean'), other],
        match: { swapped: { margin: value, runnerUp: { clip: other.id, cost: value } } },
      });
      return (checkDay(makeMatchedDay([set]), checkRules()).sets[0]?.findings ?? []).map(({ code }) => code);
    };
    expect([margin(1), margin(0.999), margin(0)]).toEqual([[], ['ambiguous-match'], ['ambiguous-match']]);
  });

  it('a stated length may be off by the tolerance and no more', () => {
    const stated = (frames: number): readonly string[] => {
      const statement = { field: 'frames', value: frames, raw: String(frames), source: { kind: 'report', file: 'report.csv', place: 'line 2' } } as const;
      const set = makeSet({ clips: [makeFullClip(1, 'lead', { statements: [statement] }), makeFullClip(2, 'swapped'), makeFullClip(3, 'clean')] });
      return (checkDay(makeMatchedDay([set]), checkRules()).sets[0]?.findings ?? []).map(({ code }) => code);
    };
    expect([238, 239, 240, 241, 242].map((frames) => stated(frames).length)).toEqual([1, 0, 0, 0, 1]);
  });
});
