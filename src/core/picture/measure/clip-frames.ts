import type { Encoding } from '../exposure/encoding.ts';
import type { ColourFrame, LumaFrame } from '../frame.ts';
import type { CameraMotion } from '../motion/classify.ts';
import type { Raster } from '../registration/plate-px.ts';
import type { FrameFaults } from '../stream/judge-frames.ts';

/** The decoded proxies of one clip. Frames are counted from the clip's first; those of a hole in a sequence are absent. */
export interface ClipFrames {
  /** The plate as it is shown: turned upright, but not de-squeezed. */
  readonly raster: Raster;
  readonly proxy: Raster;
  /** The clip's frame numbers that were decoded, ascending. */
  readonly numbers: readonly number[];
  /** @throws {RangeError} for a frame that was not decoded. */
  readonly frame: (number: number) => LumaFrame;
  /** The same in values that the caller lends, for whoever looks at frame after frame and keeps none. */
  readonly frameInto: (number: number, into: Float32Array) => LumaFrame;
  /** A few frames in colour, by number. */
  readonly colour: ReadonlyMap<number, ColourFrame>;
  /** Guide sound, one channel of 8000 samples a second from the first frame on; undefined when there is none. */
  readonly sound: Float32Array | undefined;
  readonly encoding: Encoding;
  readonly faults: FrameFaults;
  readonly motion: CameraMotion;
  /** Every how many frames `motion` looked. */
  readonly everyFrames: number;
}

/** The longer side of a proxy, px. */
export const PROXY_PX = 320;
/** Noise and the traces of a codec must average out in a proxy, four pixels of the plate in one at least: thresholds were measured so. */
const LEAST_PX = 2 * PROXY_PX;

/** Why a plate is not measured: it is hardly larger than a proxy. Undefined when it is large enough. */
export function tooSmall({ width, height }: Raster): string | undefined {
  return Math.max(width, height) >= LEAST_PX ? undefined : `${width} x ${height} px, at least ${LEAST_PX} are needed`;
}

/** What a display curve makes of a stop near an 18 % grey: the slope of ITU-R BT.709 there, in 8-bit codes; grey lies at code 104. */
export const BT709: Encoding = { kind: 'curve', codesPerStop: 40, greyCode: 104 };
