import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { Finding } from '../../../src/core/material/finding.ts';
import { formatTimecode, parseLabel } from '../../../src/core/timecode/timecode.ts';
import { checkDay } from '../../../src/steps/check/check-day.ts';
import { slate } from '../../support/make-clips.ts';
import { checkRules, chosen, makeFullClip, makeMatchedDay } from '../../support/make-matched.ts';
import type { PlantedFault } from './planted-faults.ts';
import { PLANTED } from './planted-faults.ts';
import type { Scene } from './scene.ts';
import { judgeScene, matchScene, said, soundScene } from './scene.ts';

const DAY_AT_24 = 2_073_600;

describe('clips in no set', () => {
  const stray = (over: Partial<Clip>): readonly string[] => {
    const clip = makeFullClip(9, 'clean', over);
    return said(checkDay(makeMatchedDay([], { clips: [clip], unplaced: [{ clip: clip.id, why: 'no set-up of that slate' }] }), checkRules()).findings);
  };

  it('without a slate are clips nobody can place', () => {
    const { slate: _slate, ...unslated } = makeFullClip(9, 'clean');
    const day = makeMatchedDay([], { clips: [unslated], unplaced: [{ clip: unslated.id, why: 'no slate' }] });
    expect(said(checkDay(day, checkRules()).findings)).toEqual(['unknown-slate warn']);
  });

  it('with a slate may be passes that somebody waits for', () => {
    expect(stray({})).toEqual(['unmatched-pass warn']);
  });

  it('of an ordinary set-up are no fault, unless there is nothing else', () => {
    const clip = makeFullClip(9, 'unknown');
    const stray = { clips: [clip], unplaced: [{ clip: clip.id, why: 'no sign of a plate set', ordinary: true }] };
    expect(checkDay(makeMatchedDay([matchScene(soundScene())], stray), checkRules()).findings).toEqual([]);
    const [finding, ...more] = checkDay(makeMatchedDay([], stray), checkRules()).findings;
    expect([finding?.code, finding?.severity, finding?.consequence, more]).toEqual([
      'unmatched-pass', 'warn', 'Nothing of this day says which clip is a pass of what, so no set is judged.', [],
    ]);
  });

  it('that cannot be judged say why, as badly as their reader does', () => {
    const problem = { code: 'unreadable-clip', severity: 'stop', file: 'x', place: '', found: 'text', expected: 'a movie', remedy: 'copy it again' } as const;
    expect(stray({ usable: false, problems: [problem] })).toEqual(['unreadable-clip stop']);
  });

  it('keep the findings of the steps before', () => {
    const finding: Finding = { code: 'unused-row', severity: 'note', subject: [], consequence: 'c', remedy: 'r', evidence: ['report.csv, line 9'] };
    expect(checkDay(makeMatchedDay([], { findings: [finding] }), checkRules()).findings).toEqual([finding]);
  });

  it('may be the second copy of a clip that is in a set', () => {
    const scene = soundScene();
    const copy = { ...scene.swapped, id: 'copy/A003C002_261125_R7QK.mov', file: 'copy/A003C002_261125_R7QK.mov' };
    const day = checkDay(makeMatchedDay([matchScene(scene)], { clips: [copy], unplaced: [{ clip: copy.id, why: 'a second copy' }] }), checkRules());
    expect(said(day.findings)).toEqual(['duplicate-clip warn']);
    expect(day.sets[0]?.findings).toEqual([]);
  });
});

const renamed = (name: string): string => name.replaceAll('A003', 'B007');

/** The same set under another slate, on another camera. */
function elsewhere(scene: Scene): Scene {
  const move = (clip: Clip): Clip => ({
    ...clip, id: renamed(clip.id), file: renamed(clip.file), roll: 'B007', camera: 'B', slate: slate('31A', clip.slate?.take),
  });
  return { ...scene, lead: move(scene.lead), swapped: move(scene.swapped), clean: move(scene.clean), more: scene.more.map(move), proposed: [], leftOver: [] };
}

/** By its place in the list, so that a counterexample is short. */
const anyFault = fc.nat({ max: PLANTED.length - 1 });
const faultAt = (place: number): PlantedFault => {
  const fault = PLANTED[place];
  if (fault === undefined) throw new Error(`no fault ${place}`);
  return fault;
};

describe('any faulty day', () => {
  it('gives a set the same findings when an unrelated set is added', () => {
    fc.assert(
      fc.property(anyFault, anyFault, (place, otherPlace) => {
        const fault = faultAt(place);
        const other = faultAt(otherPlace);
        const set = matchScene(fault.plant(fault.on));
        const { day } = fault.plant(fault.on);
        const alone = checkDay(makeMatchedDay([set], day), checkRules());
        const unrelated = matchScene(elsewhere(other.plant(other.on)));
        const together = checkDay(makeMatchedDay([set, { ...unrelated, set: { ...unrelated.set, id: '31A-B' } }], day), checkRules());
        expect(together.sets[0]).toEqual(alone.sets[0]);
        expect(together.findings).toEqual(alone.findings);
      }),
    );
  });

  it('does not depend on the order of clips and sets', () => {
    fc.assert(
      fc.property(anyFault, fc.boolean(), (place, turn) => {
        const fault = faultAt(place);
        const scene = fault.plant(fault.on);
        const set = matchScene(scene);
        const other = matchScene(elsewhere(soundScene()));
        const day = makeMatchedDay(turn ? [other, set] : [set, other], scene.day);
        const turned = { ...day, grouped: { ...day.grouped, clips: day.grouped.clips.toReversed() } };
        const expected = checkDay(day, checkRules());
        const judged = checkDay(turned, checkRules());
        expect([judged.sets, judged.findings]).toEqual([expected.sets, expected.findings]);
      }),
    );
  });

  it('is judged alike when all its timecodes are shifted, but for the labels that are quoted', () => {
    fc.assert(
      fc.property(anyFault, fc.integer({ min: 1, max: DAY_AT_24 - 1 }), (place, by) => {
        const fault = faultAt(place);
        const shift = (clip: Clip): Clip =>
          clip.start === undefined ? clip : { ...clip, start: { ...clip.start, frame: (clip.start.frame + by) % (clip.start.format.base * 86_400) } };
        const scene = fault.plant(fault.on);
        const { lead, swapped, clean, more } = scene;
        // Drop-frame days are shorter than base × 86,400, so those scenes are left where they are.
        if (lead.start?.format.drop === true) return;
        // Marks are noted by the same clock.
        const marks = scene.day.marks?.map((mark) => (mark.tc === undefined ? mark : { ...mark, tc: shiftedLabel(mark.tc, by) }));
        const shifted = { ...scene, day: { ...scene.day, ...(marks === undefined ? {} : { marks }) }, lead: shift(lead), swapped: shift(swapped), clean: shift(clean), more: more.map(shift) };
        const bare = (one: Scene): unknown =>
          checkDay(makeMatchedDay([matchScene(one)], one.day), checkRules()).sets[0]?.findings.map(({ evidence: _evidence, ...rest }) => rest);
        expect(bare(shifted)).toEqual(bare(scene));
      }),
    );
  });

  it('has no number in it that is none, infinite or minus zero, no empty sentence, and is plain JSON', () => {
    for (const fault of PLANTED) {
      const scene = fault.plant(fault.on);
      const judged = checkDay(makeMatchedDay([matchScene(scene)], scene.day), checkRules());
      for (const finding of [...judged.findings, ...judged.sets.flatMap(({ findings }) => findings)]) {
        for (const quantity of [finding.measured, finding.allowed]) {
          expect(quantity).toBeDefined();
          if (typeof quantity?.value === 'number') expect(Number.isFinite(quantity.value) && !Object.is(quantity.value, -0)).toBe(true);
          else expect(quantity?.value).not.toBe('');
          expect(['frames', 'fps', 'mm', 'm', 'stops', '°', 'K', '%', 'px', 'dioptre', '']).toContain(quantity?.unit);
        }
        expect([finding.consequence, finding.remedy]).toEqual([expect.stringMatching(/^\S.*\.$/), expect.stringMatching(/^\S.*\.$/)]);
        expect(`${finding.consequence} ${finding.remedy}`).not.toMatch(/undefined|NaN|\[object|Infinity|  /);
        expect(finding.evidence.length).toBeGreaterThan(0);
        expect(JSON.parse(JSON.stringify(finding))).toEqual(finding);
        expect(finding.subject).toEqual([...finding.subject].sort());
      }
    }
  });

  it('survives values that nobody could have meant', () => {
    const number = fc.constantFrom(0, -1, 1e-300, 1e300, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 3, -0);
    fc.assert(
      fc.property(fc.array(number, { minLength: 13, maxLength: 13 }), (values) => {
        const at = (place: number): number => values[place] ?? 0;
        const scene = soundScene();
        const odd: Partial<Clip> = {
          lens: { focalLengthMm: chosen(at(0)), focusDistanceM: chosen(at(1)), stop: chosen({ kind: 'T', number: at(2) }), filters: chosen({ text: 'ND', ndDensity: at(3) }), squeeze: chosen(at(4)) },
          exposure: { shutterDeg: chosen(at(5)), ei: chosen(at(6)), whiteBalanceK: chosen(at(7)) },
          position: { heightM: chosen(at(8)), tiltDeg: chosen(at(9)), rollDeg: chosen(at(10)), subjectDistanceM: chosen(at(11)), backgroundDistanceM: chosen(at(12)) },
        };
        for (const spoilt of [{ ...scene, swapped: { ...scene.swapped, ...odd } }, { ...scene, lead: { ...scene.lead, ...odd } }]) {
          for (const { measured } of judgeScene(spoilt).findings) {
            expect(typeof measured?.value === 'string' || (Number.isFinite(measured?.value) && !Object.is(measured?.value, -0))).toBe(true);
          }
        }
      }),
    );
  });
});

/** A label at 24 a second, so many frames on. */
function shiftedLabel(label: string, by: number): string {
  const format = { base: 24, drop: false };
  return formatTimecode({ frame: (parseLabel(label, format).frame + by) % DAY_AT_24, format });
}
