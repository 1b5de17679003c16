import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkPossible } from '../../../src/core/checks/possible.ts';
import type { Clip } from '../../../src/core/material/clip.ts';
import { formatReport, reportOf } from '../../../src/formats/report/report.ts';
import { chosen, checkRules, makeFullClip, makeMatchedDay, makeSet } from '../../support/make-matched.ts';
import { checkDay } from '../../../src/steps/check/check-day.ts';

const full = makeFullClip(1, 'lead');
const texts = (over: Partial<Clip>): readonly string[] => checkPossible({ ...full, ...over }).map(({ evidence, allowed }) => `${evidence[0] ?? ''} | ${allowed?.value ?? ''}`);
const lens = (over: Partial<Clip['lens']>): Partial<Clip> => ({ lens: { ...full.lens, ...over } });
const position = (over: Partial<Clip['position']>): Partial<Clip> => ({ position: { ...full.position, ...over } });

describe('values no camera can have', () => {
  it('are none in a sound clip, infinity of the focus and a close-up among what is sound', () => {
    expect(checkPossible(full)).toEqual([]);
    expect(texts(lens({ focusDistanceM: chosen(Number.POSITIVE_INFINITY) }))).toEqual([]);
    // A macro of 100 mm that focuses at 30 cm is an ordinary lens.
    expect(texts(lens({ focalLengthMm: chosen(100), focusDistanceM: chosen(0.3) }))).toEqual([]);
  });

  it.each([
    [lens({ focalLengthMm: chosen(-35) }), 'A003C001, focal length "-35": report.csv, line 2, column -35 | a length from 0.1 mm to 100 m'],
    [lens({ focusDistanceM: chosen(0.03, '3 cm') }), 'A003C001, focus distance "3 cm": report.csv, line 2, column 3 cm | more than 35 mm from the sensor: the lens is that long'],
    [lens({ stop: chosen({ kind: 'T' as const, number: 0 }, 'T0') }), 'A003C001, stop "T0": report.csv, line 2, column T0 | a number above 0, up to 512'],
    [lens({ filters: chosen({ text: 'ND-1', ndDensity: -1 }, 'ND-1') }), 'A003C001, neutral density "ND-1": report.csv, line 2, column ND-1 | an optical density from 0 to 20'],
    [lens({ squeeze: chosen(Number.NaN) }), 'A003C001, squeeze "NaN": report.csv, line 2, column NaN | a squeeze such as 1, 1.33 or 2'],
    [position({ tiltDeg: chosen(409.5) }), 'A003C001, tilt "409.5": report.csv, line 2, column 409.5 | an angle (409.5 is how a tilt sensor says "out of range")'],
    [position({ rollDeg: chosen(Number.NaN) }), 'A003C001, roll "NaN": report.csv, line 2, column NaN | an angle within ±360°'],
    [position({ subjectDistanceM: chosen(0) }), 'A003C001, subject distance "0": report.csv, line 2, column 0 | a distance above 0 m'],
    [{ exposure: { ...full.exposure, shutterDeg: chosen(720) } }, 'A003C001, shutter "720": report.csv, line 2, column 720 | a number above 0, up to 360'],
    [{ exposure: { ...full.exposure, whiteBalanceK: chosen(0) } }, 'A003C001, white balance "0": report.csv, line 2, column 0 | kelvin from 500 up'],
  ])('are told with file and place', (over, line) => {
    expect(texts(over)).toEqual([line]);
  });

  it('are told once a take and field where they run along it', () => {
    const tracks: Clip['tracks'] = [{ source: { kind: 'sidecar', file: 'lens.csv', place: '' }, frames: 4, values: { tilt: [0, 409.5, 409.5, Number.NaN] }, stopKind: 'T' }];
    expect(texts({ tracks })).toEqual(['A003C001, tilt 409.5 at frame 1, and 1 more: lens.csv | an angle (409.5 is how a tilt sensor says "out of range")']);
  });

  it('are compared with nothing', () => {
    const set = makeSet({ clips: [full, makeFullClip(2, 'swapped', position({ tiltDeg: chosen(409.5), heightM: chosen(1e9) })), makeFullClip(3, 'clean')] });
    const findings = checkDay(makeMatchedDay([set]), checkRules()).sets[0]?.findings ?? [];
    expect(findings.map(({ code, severity }) => `${code} ${severity}`)).toEqual(['unreadable-value warn', 'unreadable-value warn']);
  });
});

const hostile = fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, -0, 0, -1, 1e-320, 1e-9, 0.035, 1, 2.8, 35, 180, 409.5, 1e6, 1e30, Number.MAX_VALUE, -Number.MAX_VALUE);
const hostileFacts = fc.record({
  focal: hostile, focus: hostile, stop: hostile, density: hostile, squeeze: hostile, shutter: hostile, ei: hostile, kelvin: hostile, height: hostile, tilt: hostile, roll: hostile,
  subject: hostile, background: hostile, width: hostile, height2: hostile, along: fc.array(hostile, { maxLength: 6 }),
});

function hostileClip(number: number, role: Clip['role'], facts: typeof hostileFacts extends fc.Arbitrary<infer T> ? T : never): Clip {
  return makeFullClip(number, role, {
    lens: {
      ...full.lens, focalLengthMm: chosen(facts.focal, 'x'), focusDistanceM: chosen(facts.focus, 'x'), stop: chosen({ kind: 'T', number: facts.stop }, 'x'),
      filters: chosen({ text: 'ND', ndDensity: facts.density }, 'x'), squeeze: chosen(facts.squeeze, 'x'),
    },
    exposure: { shutterDeg: chosen(facts.shutter, 'x'), ei: chosen(facts.ei, 'x'), whiteBalanceK: chosen(facts.kelvin, 'x') },
    position: {
      heightM: chosen(facts.height, 'x'), tiltDeg: chosen(facts.tilt, 'x'), rollDeg: chosen(facts.roll, 'x'),
      subjectDistanceM: chosen(facts.subject, 'x'), backgroundDistanceM: chosen(facts.background, 'x'),
    },
    picture: { raster: chosen({ width: facts.width, height: facts.height2 }, 'x') },
    tracks: [{
      source: { kind: 'sidecar', file: 'lens.csv', place: '' }, frames: facts.along.length, stopKind: 'T',
      values: { focalLength: facts.along, focusDistance: facts.along, stop: facts.along, tilt: facts.along, rollAngle: facts.along },
    }],
  });
}

describe('a report of hostile numbers', () => {
  it('holds no NaN, no Infinity and no −0', () => {
    fc.assert(
      fc.property(hostileFacts, hostileFacts, hostileFacts, (a, b, c) => {
        const set = makeSet({ clips: [hostileClip(1, 'lead', a), hostileClip(2, 'swapped', b), hostileClip(3, 'clean', c)] });
        // What must be reproduced for a missing pass is put into words too.
        const alone = makeSet({ id: '31A-A', slate: '31A', clips: [hostileClip(4, 'lead', a)] });
        const text = formatReport(reportOf(checkDay(makeMatchedDay([set, alone]), checkRules())));
        // Line by line, so that what fails is seen.
        expect(text.split('\n').filter((line) => /NaN|Infinity|undefined|[^\d.e]-0(?![\d.])|−0(?![\d.])/.test(line))).toEqual([]);
      }),
      { numRuns: 300 },
    );
  });
});
