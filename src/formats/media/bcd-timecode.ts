import type { FrameRate } from '../../core/timecode/rate.ts';
import { hasDropFrame, nominalBase } from '../../core/timecode/rate.ts';
import type { Timecode } from '../../core/timecode/timecode.ts';
import { parseLabel, TimecodeError, timecodeFormat } from '../../core/timecode/timecode.ts';
import type { FoundProblem, FoundValue } from './media-facts.ts';
import { doubtful, found, timecodeValues } from './media-facts.ts';

/** A timecode word taken apart: its label, with ";" before the frames when its drop bit is set. */
interface WordLabel {
  readonly label: string;
  readonly drop: boolean;
  readonly frames: number;
}

/**
 * The label in a 32-bit word of binary-coded digits HHMMSSFF, flags masked out (ST 12-1 layout as OpenEXR and DPX store it; bit 6
 * is the drop flag, or with `wideFrames` part of the frame digits). Undefined when a digit is above 9 or a field out of range.
 */
function labelOfWord(word: number, wideFrames = false): WordLabel | undefined {
  const hours = digits((word >>> 24) & 0x3f);
  const minutes = digits((word >>> 16) & 0x7f);
  const seconds = digits((word >>> 8) & 0x7f);
  const frames = digits(word & (wideFrames ? 0x7f : 0x3f));
  if (hours === undefined || minutes === undefined || seconds === undefined || frames === undefined) return undefined;
  if (hours > 23 || minutes > 59 || seconds > 59) return undefined;
  const drop = !wideFrames && (word & 0x40) !== 0;
  const two = (value: number): string => String(value).padStart(2, '0');
  return { label: `${two(hours)}:${two(minutes)}:${two(seconds)}${drop ? ';' : ':'}${two(frames)}`, drop, frames };
}

function digits(byte: number): number | undefined {
  const tens = byte >> 4;
  const units = byte & 0x0f;
  return tens > 9 || units > 9 ? undefined : tens * 10 + units;
}

/** What a timecode word amounts to, given the rate that is stated elsewhere in the file. */
export interface WordFacts {
  readonly values: readonly FoundValue[];
  readonly problems: readonly FoundProblem[];
  readonly timecode?: Timecode;
}

/**
 * Values of a timecode word. The frame number is worked out only where the label says it all. Above 30 frames a second one picture
 * alone does not tell whether labels stand for pairs of pictures, unless its frame digits are beyond what pairs need.
 */
export function wordFacts(word: number, rate: FrameRate | undefined, place: string): WordFacts {
  const raw = word.toString(16).padStart(8, '0');
  const fast = rate !== undefined && nominalBase(rate) > 30;
  // Where no drop frame exists, bit 6 at such a rate can only be the 40 of frames 40 to 59.
  const parts = labelOfWord(word, fast && !hasDropFrame(rate));
  if (parts === undefined) return { values: [], problems: [doubtful(place, `timecode word ${raw}`, 'HHMMSSFF in decimal digits')] };
  const pairsPossible = fast && parts.frames < nominalBase(rate) / 2;
  if (rate === undefined || pairsPossible) {
    const { label, drop } = parts;
    return { values: [found('tcIn', label, raw, place), found('dropFrame', drop, drop ? 'drop' : 'non-drop', place)], problems: [] };
  }
  return countedFacts(parts, rate, place);
}

function countedFacts({ label, drop }: WordLabel, rate: FrameRate, place: string): WordFacts {
  const falseDrop = drop && !hasDropFrame(rate);
  const problems = falseDrop ? [doubtful(place, `a drop-frame flag at ${nominalBase(rate)} labels a second`, 'drop frame only at 29.97, 59.94 and 119.88')] : [];
  try {
    const timecode = parseLabel(label, timecodeFormat(rate, drop && !falseDrop));
    return { values: timecodeValues(timecode, place, rate), problems, timecode };
  } catch (error) {
    if (!(error instanceof TimecodeError)) throw error;
    return { values: [], problems: [...problems, doubtful(place, `timecode ${label}`, error.reason)] };
  }
}
