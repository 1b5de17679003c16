import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import { rateAsNumber } from '../timecode/rate.ts';
import { formatTimecode, framesPerDay, shiftTimecode } from '../timecode/timecode.ts';
import { clipName } from './passes.ts';
import { raise } from './raise.ts';
import type { Recorded, SetOf } from './recorded.ts';
import { isOnPurpose, pairKey } from './recorded.ts';
import { compareText } from './severity.ts';

/** Two clips of one camera that carry the same timecode. */
export interface Overlap {
  readonly earlier: Recorded;
  readonly later: Recorded;
  /** Labels they share. */
  readonly labels: number;
  /** The earlier clip ran fast and by the clock had ended: its labels ran ahead. */
  readonly highSpeed: boolean;
}

/** A stretch of the dial of one day: `start` may lie before midnight as a negative number. */
interface Stretch extends Recorded {
  readonly from: number;
  readonly to: number;
}

/** Each clip against the one before it that reaches furthest, and against the furthest of another set: enough to find every wrong clip. */
export function findOverlaps(recorded: readonly Recorded[], setOf: SetOf): readonly Overlap[] {
  const stretches = recorded.flatMap(stretchesOf).sort((a, b) => a.from - b.from || compareText(a.clip.id, b.clip.id));
  const found = new Map<string, Overlap>();
  let furthest: Stretch | undefined;
  let furthestElsewhere: Stretch | undefined;
  for (const stretch of stretches) {
    for (const overlap of [overlapOf(furthest, stretch, setOf), overlapOf(furthestElsewhere, stretch, setOf)]) {
      if (overlap !== undefined) found.set(pairKey(overlap.earlier.clip, overlap.later.clip), overlap);
    }
    const sameSet = furthest !== undefined && setOf(furthest.clip.id)?.id === setOf(stretch.clip.id)?.id;
    if (furthest === undefined || stretch.to > furthest.to) {
      if (!sameSet) furthestElsewhere = furthest;
      furthest = stretch;
    } else if (!sameSet && (furthestElsewhere === undefined || stretch.to > furthestElsewhere.to)) furthestElsewhere = stretch;
  }
  return [...found.values()];
}

/** A clip over midnight lies at both ends of the dial. */
function stretchesOf(recorded: Recorded): readonly Stretch[] {
  const day = framesPerDay(recorded.start.format);
  const from = ((recorded.start.frame % day) + day) % day;
  const to = from + recorded.labels;
  const stretch = { ...recorded, from, to };
  return to > day ? [stretch, { ...recorded, from: from - day, to: to - day }] : [stretch];
}

function overlapOf(earlier: Stretch | undefined, later: Stretch, setOf: SetOf): Overlap | undefined {
  if (earlier === undefined || later.from >= earlier.to || earlier.clip.id === later.clip.id) return undefined;
  if (isOnPurpose(earlier, later, setOf)) return undefined;
  const byClock = earlier.from + earlier.labels * clockShare(earlier.clip);
  return { earlier, later, labels: Math.min(earlier.to, later.to) - later.from, highSpeed: later.from >= byClock };
}

/** A sensor at 96 on a 24 fps file fills four seconds of labels in one second of the clock. */
function clockShare({ rate, sensorRate }: Clip): number {
  return rate === undefined || sensorRate === undefined ? 1 : Math.min(1, rateAsNumber(rate) / rateAsNumber(sensorRate));
}

/** What an overlap is to people. */
export function raiseOverlap({ earlier, later, labels, highSpeed }: Overlap): Finding {
  return raise({
    code: 'timecode-overlap',
    severity: highSpeed ? 'note' : 'warn',
    subject: [earlier.clip, later.clip],
    earlier: earlier.clip,
    later: later.clip,
    highSpeed,
    measured: { value: Math.ceil(labels), unit: 'frames' },
    allowed: { value: 0, unit: 'frames' },
    evidence: [spanText(earlier), `${clipName(later.clip)} starts at ${formatTimecode(later.start)}`],
  });
}

function spanText({ clip, start, labels }: Recorded): string {
  const last = shiftTimecode(start, Math.max(0, Math.ceil(labels) - 1));
  return `${clipName(clip)} runs from ${formatTimecode(start)} to ${formatTimecode(last)}, both in`;
}
