import type { FrameRate } from './rate.ts';
import { hasDropFrame, nominalBase, rateName } from './rate.ts';
import type { Timecode, TimecodeFormat } from './timecode.ts';
import { TimecodeError, parseLabel, parseLabelParts } from './timecode.ts';

/**
 * A label read at the rate its timecode counts at. A camera's drop-frame flag beats the separator, since reports often write ":"
 * throughout; without a flag ";" means drop frame and ":" does not.
 * @throws {TimecodeError} when the label does not exist, or drop frame is meant at a rate that has none.
 */
export function readLabel(label: string, rate: FrameRate, dropFlag?: boolean): Timecode {
  return parseLabel(label, labelFormat(label, rate, dropFlag));
}

function labelFormat(label: string, rate: FrameRate, dropFlag: boolean | undefined): TimecodeFormat {
  const drop = dropFlag ?? parseLabelParts(label).separatorDrop;
  if (drop && !hasDropFrame(rate)) throw new TimecodeError(label, `there is no drop-frame timecode at ${rateName(rate)} fps`);
  return { base: nominalBase(rate), drop };
}
