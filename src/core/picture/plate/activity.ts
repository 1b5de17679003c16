import { fitGain } from '../exposure/fit-gain.ts';
import type { LumaFrame } from '../frame.ts';
import { findBlobs } from '../pixels/blobs.ts';
import { boxBlur } from '../pixels/blur.ts';
import { tidy } from '../pixels/morphology.ts';
import { selectInPlace } from '../pixels/order.ts';
import { scratch } from '../pixels/scratch.ts';
import { temporalMedian } from '../pixels/over-time.ts';

/** What moves in a plate that should stand still. */
export interface PlateActivity {
  /** Places that move most of the time or often, largest first; box in px. */
  readonly places: readonly { readonly left: number; readonly top: number; readonly width: number; readonly height: number; readonly area: number }[];
  /** Frames (positions in the list given) in which something stands that is not there in most of the others. */
  readonly frames: readonly number[];
}

const LEAST_AREA = 40;
/** Two frames have no middle to differ from. */
const LEAST_FRAMES = 4;

/** Holds every frame of the plate against the middle of all, after taking out lamp flicker. `slopes`: the background's, codes a pixel. */
export function findActivity(clean: readonly LumaFrame[], slopes: Float32Array, noise: number): PlateActivity {
  const first = clean[0];
  if (first === undefined || clean.length < LEAST_FRAMES) return { places: [], frames: [] };
  const middle = temporalMedian(clean);
  const away = clean.map((frame) => awayFrom(middle, frame));
  const column = new Float32Array(clean.length);
  const rank = Math.round(0.95 * (clean.length - 1));
  const often = new Uint8Array(middle.values.length);
  for (let i = 0; i < often.length; i++) {
    for (let t = 0; t < away.length; t++) column[t] = away[t]?.[i] ?? 0;
    if (selectInPlace(column, column.length, rank) > 0.9 * noise + 0.35 + 0.02 * (slopes[i] ?? 0)) often[i] = 1;
  }
  const frames = [...away.keys()].filter((t) => {
    const mask = new Uint8Array(first.values.length);
    const least = Math.max(1.5, 1.5 * noise);
    for (let i = 0; i < mask.length; i++) mask[i] = (away[t]?.[i] ?? 0) > least + 0.1 * (slopes[i] ?? 0) ? 1 : 0;
    return findBlobs(tidy(mask, first.width), first.width, LEAST_AREA).length > 0;
  });
  const places = findBlobs(tidy(often, first.width), first.width, LEAST_AREA).map(({ left, top, width, height, area }) => ({ left, top, width, height, area }));
  return { places, frames };
}

function awayFrom(middle: LumaFrame, frame: LumaFrame): Float32Array {
  const { gain, offset } = fitGain(everyEleventh(middle.values), everyEleventh(frame.values)) ?? { gain: 1, offset: 0 };
  const values = scratch('away from the middle', frame.values.length);
  for (let i = 0; i < values.length; i++) values[i] = (frame.values[i] ?? 0) - gain * (middle.values[i] ?? 0) - offset;
  const away = boxBlur({ ...frame, values }, 1).values;
  for (let i = 0; i < away.length; i++) away[i] = Math.abs(away[i] ?? 0);
  return away;
}

function everyEleventh(values: Float32Array): Float32Array {
  const some = new Float32Array(Math.ceil(values.length / 11));
  for (let i = 0; i < some.length; i++) some[i] = values[11 * i] ?? 0;
  return some;
}
