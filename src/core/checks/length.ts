import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import type { Statement } from '../material/statement.ts';
import { framesPerLabel } from '../timecode/half-rate.ts';
import { rateAsNumber } from '../timecode/rate.ts';
import { framesPerDay, parseLabel } from '../timecode/timecode.ts';
import { figure, sourceText } from './evidence.ts';
import { raise } from './raise.ts';
import { isAbove } from './severity.ts';

/**
 * A clip must be as long as its sources say: the pictures counted in it against a stated count and against the timecode out,
 * which may be its last frame or the first after it.
 */
export function checkLength(clip: Clip, lengthFrames: number): readonly Finding[] {
  if (clip.frames === undefined) return [];
  const counted = clip.frames;
  // The holes of a sequence are `frame-gap`: a source that counts them in does not disagree.
  const counts = clip.sequence === undefined ? [counted] : [counted, clip.sequence.last - clip.sequence.first + 1];
  const findings: Finding[] = [];
  for (const statement of clip.statements) {
    const lengths = statedLengths(clip, statement);
    const off = Math.min(...lengths.flatMap((length) => counts.map((count) => Math.abs(length - count))));
    if (lengths.length === 0 || !isAbove(off, lengthFrames)) continue;
    findings.push(
      raise({
        code: 'length-disagrees',
        severity: 'warn',
        subject: [clip],
        clip,
        measured: { value: counted, unit: 'frames' },
        allowed: { value: figure(lengths[0] ?? 0, 0), unit: 'frames' },
        evidence: [`${statement.field === 'frames' ? 'frames' : 'timecode out'} "${statement.raw}": ${sourceText(statement.source)}`],
      }),
    );
  }
  return findings;
}

/** The lengths in frames of the file that a statement can mean; none when it says nothing of length. */
function statedLengths(clip: Clip, statement: Statement): readonly number[] {
  if (statement.field === 'frames') return [statement.value];
  if (statement.field !== 'tcOut' || clip.start === undefined) return [];
  const labels = labelsBetween(clip.start, statement.value);
  if (labels === undefined) return [];
  const perLabel = (clip.rate === undefined ? undefined : framesPerLabel(clip.rate, clip.start.format)) ?? 1;
  // A camera that runs fast may write the clock's time out: then labels pass at the playback rate while frames pass at the sensor's.
  const byClock = clip.sensorRate === undefined || clip.rate === undefined ? 1 : rateAsNumber(clip.sensorRate) / rateAsNumber(clip.rate);
  const meanings = [labels * perLabel, (labels + 1) * perLabel];
  return byClock === 1 ? meanings : [...meanings, ...meanings.map((length) => length * byClock)];
}

function labelsBetween(start: NonNullable<Clip['start']>, out: string): number | undefined {
  try {
    const day = framesPerDay(start.format);
    return (((parseLabel(out, start.format).frame - start.frame) % day) + day) % day;
  } catch {
    // A label that does not exist is `unreadable-value`, said where it was read.
    return undefined;
  }
}
