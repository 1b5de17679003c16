import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkClock } from '../../../src/core/checks/clock.ts';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { PlateSet } from '../../../src/core/material/plate-set.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { parseLabel } from '../../../src/core/timecode/timecode.ts';
import { checkDay } from '../../../src/steps/check/check-day.ts';
import type { method } from '../../support/make-clips.ts';
import { makeClip, slate } from '../../support/make-clips.ts';
import { checkRules, makeMatchedDay, makeSet } from '../../support/make-matched.ts';

const AT_24 = { base: 24, drop: false };

/** Clip `number` of roll A003, from a label, so many frames long. */
function recorded(number: number, start: string, frames: number, over: Partial<Clip> = {}): Clip {
  const clip = `C${String(number).padStart(3, '0')}`;
  return makeClip(`A003${clip}.mov`, { roll: 'A003', clip, start: parseLabel(start, AT_24), frames, ...over });
}

const alone = (): undefined => undefined;

function found(clips: readonly Clip[], setOf: (id: string) => PlateSet | undefined = alone): readonly string[] {
  return checkClock(clips, setOf).map(({ code, severity, subject, measured }) => `${code} ${severity} ${subject.map((id) => id.slice(4, 8)).join(' ')} ${measured?.value}`);
}

function inOneSet(clips: readonly Clip[], over: Parameters<typeof method>[1] = {}): (id: string) => PlateSet | undefined {
  const { set } = makeSet({ clips, method: over });
  return (id) => (clips.some((clip) => clip.id === id) ? set : undefined);
}

describe('two clips of one camera at once', () => {
  it('are found by the frames they share', () => {
    expect(found([recorded(1, '10:00:00:00', 240), recorded(2, '10:00:09:00', 240)])).toEqual(['timecode-overlap warn C001 C002 24']);
  });

  it('touch without overlapping when one starts on the label after the other ends', () => {
    expect(found([recorded(1, '10:00:00:00', 240), recorded(2, '10:00:10:00', 240)])).toEqual([]);
    expect(found([recorded(1, '10:00:00:00', 241), recorded(2, '10:00:10:00', 240)])).toEqual(['timecode-overlap warn C001 C002 1']);
  });

  it('are found across midnight, where the labels begin again', () => {
    expect(found([recorded(1, '23:59:55:00', 240), recorded(2, '00:00:04:00', 240)])).toEqual(['timecode-overlap warn C001 C002 24']);
    expect(found([recorded(1, '23:59:55:00', 240), recorded(2, '00:00:05:00', 240)])).toEqual([]);
  });

  it('are no fault on two cameras, on two dates, or counted in two ways', () => {
    const first = recorded(1, '10:00:00:00', 240);
    expect(found([first, recorded(2, '10:00:00:00', 240, { camera: 'B' })])).toEqual([]);
    expect(found([{ ...first, date: '2026-11-24' }, recorded(2, '10:00:00:00', 240, { date: '2026-11-25' })])).toEqual([]);
    expect(found([first, recorded(2, '10:00:00:00', 240, { start: parseLabel('10:00:00:00', { base: 25, drop: false }) })])).toEqual([]);
  });

  it('are measured in labels when a 48 fps file carries labels of base 24', () => {
    const first = recorded(1, '10:00:00:00', 480, { rate: frameRate(48) });
    expect(found([first, recorded(2, '10:00:10:00', 240)])).toEqual([]);
    expect(found([first, recorded(2, '10:00:09:00', 240)])).toEqual(['timecode-overlap warn C001 C002 24']);
  });

  it('are only a note where the earlier ran fast and had ended by the clock', () => {
    // 960 frames at 24 fps are 40 s of labels, but a sensor at 96 filled them in 10 s.
    const fast = recorded(1, '10:00:00:00', 960, { sensorRate: frameRate(96) });
    expect(found([fast, recorded(2, '10:00:10:00', 240)])).toEqual(['timecode-overlap note C001 C002 240']);
    expect(found([fast, recorded(2, '10:00:09:23', 240)])).toEqual(['timecode-overlap warn C001 C002 240']);
  });

  it('find every clip that is inside another, though a third lies between', () => {
    const clips = [recorded(1, '10:00:00:00', 2400), recorded(2, '10:00:10:00', 24), recorded(3, '10:01:00:00', 24)];
    expect(found(clips)).toEqual(['timecode-overlap warn C001 C002 24', 'timecode-overlap warn C001 C003 24']);
  });
});

describe('equal timecode on purpose', () => {
  const pair = [recorded(1, '01:00:00:00', 240), recorded(2, '01:00:00:00', 240)] as const;
  const shifted = [recorded(1, '01:00:00:00', 240), recorded(2, '01:00:00:02', 240)] as const;

  it('is meant in one set when the starts agree to the frame', () => {
    expect(found(pair, inOneSet(pair))).toEqual([]);
  });

  it('is meant in one set when the method repeats a move, or the notes say so', () => {
    expect(found(shifted, inOneSet(shifted))).toEqual(['timecode-overlap warn C001 C002 238']);
    expect(found(shifted, inOneSet(shifted, { repeatedMove: true }))).toEqual([]);
    for (const note of ['moco trigger TC', 'Motion control, pass 2', 'playback', 'same TC as take 1']) {
      const noted = [shifted[0], { ...shifted[1], notes: [note] }];
      expect(found(noted, inOneSet(noted))).toEqual([]);
    }
  });

  it('is a fault of the clock in two sets, or in none', () => {
    expect(found(pair)).toEqual(['timecode-overlap warn C001 C002 240']);
    const [first, second] = pair;
    const sets = new Map([[first.id, makeSet({ id: '1', clips: [first] }).set], [second.id, makeSet({ id: '2', clips: [second] }).set]]);
    expect(found(pair, (id) => sets.get(id))).toEqual(['timecode-overlap warn C001 C002 240']);
  });

  it('does not hide a clip of another set under two passes that belong together', () => {
    const stranger = recorded(3, '01:00:05:00', 240);
    expect(found([...pair, stranger], inOneSet(pair))).toEqual(['timecode-overlap warn C001 C003 120']);
  });
});

describe('timecode that runs backwards', () => {
  it('is found in the order of roll and clip number', () => {
    expect(found([recorded(1, '10:00:00:00', 240), recorded(2, '09:00:00:00', 240)])).toEqual(['timecode-backwards warn C001 C002 86400']);
    expect(found([recorded(2, '10:00:00:00', 240), recorded(1, '09:00:00:00', 240)])).toEqual([]);
  });

  it('is found from one roll to the next, and after clip 9 comes clip 10', () => {
    expect(found([recorded(9, '10:00:00:00', 24), recorded(10, '10:01:00:00', 24), recorded(1, '10:02:00:00', 24, { roll: 'A004' })])).toEqual([]);
    expect(found([recorded(9, '10:00:00:00', 24), recorded(1, '09:58:00:00', 24, { roll: 'A004' })])).toHaveLength(1);
  });

  it('is no fault when midnight lies between', () => {
    expect(found([recorded(1, '23:50:00:00', 240), recorded(2, '00:05:00:00', 240)])).toEqual([]);
  });

  it('is said once: clips that overlap are not said to run backwards too', () => {
    expect(found([recorded(1, '10:00:05:00', 240), recorded(2, '10:00:00:00', 240)])).toEqual(['timecode-overlap warn C001 C002 120']);
  });

  it('says nothing of clips a motion control rig gave its own timecode', () => {
    const clips = [recorded(1, '11:00:00:00', 240), recorded(2, '01:00:00:00', 240), recorded(3, '01:00:00:00', 240), recorded(4, '11:10:00:00', 240)];
    const { set } = makeSet({ clips: clips.slice(1, 3), method: { repeatedMove: true } });
    expect(found(clips, (id) => (set.clips.some((clip) => clip.id === id) ? set : undefined))).toEqual([]);
    expect(found(clips)).toHaveLength(2);
  });

  it('says nothing of clips without a number or a timecode', () => {
    const { clip: _clip, ...unnumbered } = recorded(2, '09:00:00:00', 240);
    const { start: _start, ...untimed } = recorded(3, '08:00:00:00', 240);
    expect(found([recorded(1, '10:00:00:00', 240), unnumbered, untimed])).toEqual([]);
  });
});

it('does not depend on the order of the clips', () => {
  const clips = [
    recorded(1, '10:00:00:00', 2400), recorded(2, '10:00:10:00', 24), recorded(3, '10:01:00:00', 2400), recorded(4, '09:00:00:00', 24),
    recorded(5, '23:59:59:00', 240), recorded(6, '00:00:01:00', 240),
  ];
  const expected = [...found(clips)].sort();
  fc.assert(
    fc.property(fc.shuffledSubarray(clips, { minLength: clips.length }), (shuffled) => {
      expect([...found(shuffled)].sort()).toEqual(expected);
    }),
  );
});

it('finds the same when all timecodes are shifted alike, past midnight too', () => {
  const clips = [recorded(1, '10:00:00:00', 2400), recorded(2, '10:00:10:00', 24), recorded(3, '10:01:00:00', 2400), recorded(4, '10:01:30:00', 24), recorded(5, '11:00:00:00', 24)];
  const expected = [...found(clips)].sort();
  fc.assert(
    fc.property(fc.integer({ min: -2_073_600, max: 2_073_600 }), (by) => {
      const day = 2_073_600;
      const shifted = clips.map((clip) => ({ ...clip, start: { frame: ((((clip.start?.frame ?? 0) + by) % day) + day) % day, format: AT_24 } }));
      expect([...found(shifted)].sort()).toEqual(expected);
    }),
  );
});

describe('where a finding of the clock goes', () => {
  const other = (number: number, start: string): Clip => recorded(number, start, 240, { slate: slate('31A', 1) });

  it('goes to the set when both clips are its own, to the day when they are not', () => {
    const own = makeSet({ clips: [recorded(1, '10:00:00:00', 240), recorded(2, '10:00:01:00', 240, { role: 'swapped' }), recorded(3, '10:05:00:00', 240, { role: 'clean' })] });
    const strange = makeSet({ id: '31A-A', clips: [other(4, '10:05:01:00')] });
    const day = checkDay(makeMatchedDay([own, strange]), checkRules());
    // The clips of these tests say nothing of their lens, which the set says as well.
    expect(day.sets[0]?.findings.map(({ code }) => code).filter((code) => code !== 'not-on-record')).toEqual(['timecode-overlap']);
    expect(day.findings.map(({ code, subject }) => [code, subject])).toEqual([['timecode-overlap', ['A003C003.mov', 'A003C004.mov']]]);
  });
});
