import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Clip, Role } from '../../../src/core/material/clip.ts';
import type { GroupedDay, MatchedDay } from '../../../src/core/material/day.ts';
import type { PlateSet } from '../../../src/core/material/plate-set.ts';
import { passesOf } from '../../../src/core/matching/left-over.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { framesPerDay } from '../../../src/core/timecode/timecode.ts';
import { matchDay } from '../../../src/steps/match/match-day.ts';
import { method } from '../../support/make-clips.ts';
import { chosen, groupedDay, LABELS_24, matchRules, pass, plateSet } from '../../support/make-sets.ts';

const DAY = framesPerDay(LABELS_24);
const ROLES: readonly Role[] = ['lead', 'lead', 'swapped', 'swapped', 'clean', 'element', 'reference', 'unknown'];

interface PassSeed {
  readonly role: Role;
  readonly circled: boolean;
  readonly usable: boolean;
  readonly lens: string;
  readonly frames: number;
  /** Seconds after the last; a negative one makes timecode overlap. */
  readonly pause: number;
  readonly fps: number;
}

const passSeed: fc.Arbitrary<PassSeed> = fc.record({
  role: fc.constantFrom(...ROLES),
  circled: fc.boolean(),
  usable: fc.integer({ min: 0, max: 9 }).map((chance) => chance > 0),
  lens: fc.constantFrom('4711', '4711', '4711', '4712'),
  frames: fc.integer({ min: 10, max: 300 }),
  pause: fc.integer({ min: -2, max: 600 }),
  fps: fc.constantFrom(24, 24, 24, 25),
});

function makeSet(setUp: string, seeds: readonly PassSeed[], firstSecond: number, moco: boolean, camera = 'A'): PlateSet {
  let frame = firstSecond * 24;
  const clips = seeds.map(({ role, circled, usable, lens, frames, pause, fps }, index) => {
    frame += pause * 24 + frames;
    const file = `${camera}003C${String(index).padStart(3, '0')}_${setUp}.mov`;
    const over: Partial<Clip> = {
      id: file, file, camera, circled, usable, frames, rate: frameRate(fps), start: { frame: frame % DAY, format: LABELS_24 },
      lens: { serial: chosen(lens), focalLengthMm: chosen(35) },
    };
    return pass({ role, take: index, setUp, over });
  });
  return plateSet(clips, { id: `${setUp}-${camera}`, slate: setUp, camera, method: method(moco ? 'moco' : 'split', { repeatedMove: moco, movingCamera: moco }) });
}

/** One to four set-ups, half an hour or so apart. */
const someDay = fc.array(fc.tuple(fc.array(passSeed, { minLength: 1, maxLength: 9 }), fc.boolean()), { minLength: 1, maxLength: 4 }).map((sets) =>
  groupedDay(sets.map(([seeds, moco], index) => makeSet(`${27 + index}B`, seeds, 36_000 + 1800 * index, moco))),
);

const matched = (day: GroupedDay): MatchedDay => matchDay(day, matchRules());

describe('a matched day', () => {
  it('never depends on the order of clips, sets and rows', () => {
    fc.assert(
      fc.property(someDay, fc.integer({ min: 0, max: 8 }), (day, turn) => {
        const turned = <T>(list: readonly T[]): T[] => [...list.slice(turn % list.length), ...list.slice(0, turn % list.length)].toReversed();
        const sets = turned(day.sets).map((set) => ({ ...set, clips: turned(set.clips) }));
        const results = matched({ ...day, clips: turned(day.clips), sets }).sets.map(({ set, ...rest }) => ({ id: set.id, ...rest }));
        expect(results).toEqual(matched(day).sets.map(({ set, ...rest }) => ({ id: set.id, ...rest })));
      }),
      { numRuns: 300, seed: 11 },
    );
  });

  it('does not change when all timecodes are shifted, past midnight too', () => {
    fc.assert(
      fc.property(someDay, fc.integer({ min: 1, max: DAY - 1 }), (day, shift) => {
        const later = (clip: Clip): Clip => (clip.start === undefined ? clip : { ...clip, start: { ...clip.start, frame: (clip.start.frame + shift) % DAY } });
        const shifted = { ...day, clips: day.clips.map(later), sets: day.sets.map((set) => ({ ...set, clips: set.clips.map(later) })) };
        // Words of a sync quote the labels themselves; everything else stays.
        const unquoted = (result: MatchedDay): unknown =>
          JSON.parse(JSON.stringify(result.sets.map(({ set: _set, ...rest }) => rest)).replaceAll(/starts at [\d:]+, this pass at [\d:]+/gu, ''));
        expect(unquoted(matched(shifted))).toEqual(unquoted(matched(day)));
      }),
      { numRuns: 300, seed: 12 },
    );
  });

  it('does not change in any set when an unrelated set is added: one of another camera', () => {
    fc.assert(
      fc.property(someDay, fc.array(passSeed, { minLength: 1, maxLength: 9 }), (day, seeds) => {
        const other = makeSet('27B', seeds, 36_000, false, 'B');
        const more = matched({ ...day, clips: [...other.clips, ...day.clips], sets: [other, ...day.sets] });
        expect(more.sets.filter(({ set }) => set.camera === 'A')).toEqual(matched(day).sets);
      }),
      { numRuns: 300, seed: 13 },
    );
  });

  it('accounts for every clip of a set once: lead, matched, left over or unusable', () => {
    fc.assert(
      fc.property(someDay, (day) => {
        for (const { set, matches, leftOver } of matched(day).sets) {
          const leads = matches.map(({ lead }) => lead);
          const passes = [...new Set(matches.flatMap((match) => passesOf(match)).map(({ clip }) => clip))];
          const unusable = set.clips.filter(({ usable }) => !usable).map(({ id }) => id);
          const all = [...leads, ...passes, ...leftOver.map(({ clip }) => clip), ...unusable];
          expect(all.toSorted()).toEqual(set.clips.map(({ id }) => id).toSorted());
        }
      }),
      { numRuns: 300, seed: 14 },
    );
  });

  it('proposes each pass once, to a lead without that pass, and only what is left over', () => {
    let proposals = 0;
    fc.assert(
      fc.property(someDay, (day) => {
        const result = matched(day);
        const proposed = result.sets.flatMap((one) => one.proposed);
        const spare = new Set(result.sets.flatMap(({ leftOver }) => leftOver).map(({ clip }) => clip));
        proposals += proposed.length;
        expect(new Set(proposed.map(({ clip }) => clip)).size).toBe(proposed.length);
        for (const { lead, clip, role } of proposed) {
          const match = result.sets.flatMap(({ matches }) => matches).find((one) => one.lead === lead);
          expect(spare.has(clip)).toBe(true);
          expect(role === 'swapped' ? match?.swapped : match?.clean).toBeUndefined();
        }
      }),
      { numRuns: 300, seed: 15 },
    );
    expect(proposals).toBeGreaterThan(20);
  });
});
