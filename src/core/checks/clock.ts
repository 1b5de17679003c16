import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import { compareCounters } from '../matching/recording.ts';
import { formatTimecode, framesPerDay } from '../timecode/timecode.ts';
import { findOverlaps, raiseOverlap } from './clock-overlap.ts';
import { clipName } from './passes.ts';
import { raise } from './raise.ts';
import type { Recorded, SetOf } from './recorded.ts';
import { isOffTheClock, isOnPurpose, onOneClock, pairKey } from './recorded.ts';

/**
 * The timecode of each camera must run on: no two clips at once, none earlier than the one recorded before it. Cameras, shooting
 * dates and ways of counting are never mixed. Sorting is the dearest part.
 */
export function checkClock(clips: readonly Clip[], setOf: SetOf): readonly Finding[] {
  return [...onOneClock(clips).values()].flatMap((recorded) => {
    const overlaps = findOverlaps(recorded, setOf);
    const overlapping = new Set(overlaps.map(({ earlier, later }) => pairKey(earlier.clip, later.clip)));
    return [...overlaps.map(raiseOverlap), ...findBackwards(recorded, setOf, overlapping)];
  });
}

/** In the order of roll and clip number, timecode may only grow; a step of less than half a day forward may pass midnight. */
function findBackwards(recorded: readonly Recorded[], setOf: SetOf, overlapping: ReadonlySet<string>): readonly Finding[] {
  const counted = recorded.filter(({ clip }) => clip.clip !== undefined && !isOffTheClock(clip, setOf));
  counted.sort((a, b) => compareCounters(a.clip, b.clip));
  return counted.flatMap((later, place) => {
    const earlier = counted[place - 1];
    if (earlier === undefined || overlapping.has(pairKey(earlier.clip, later.clip))) return [];
    const day = framesPerDay(later.start.format);
    const forward = (((later.start.frame - earlier.start.frame) % day) + day) % day;
    if (forward < day / 2 || isOnPurpose(earlier, later, setOf)) return [];
    return [
      raise({
        code: 'timecode-backwards',
        severity: 'warn',
        subject: [earlier.clip, later.clip],
        earlier: earlier.clip,
        later: later.clip,
        highSpeed: false,
        measured: { value: day - forward, unit: 'frames' },
        allowed: { value: 0, unit: 'frames' },
        evidence: [`${clipName(earlier.clip)} starts at ${formatTimecode(earlier.start)}`, `${clipName(later.clip)} starts at ${formatTimecode(later.start)}`],
      }),
    ];
  });
}
