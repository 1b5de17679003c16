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

/** What a display curve makes of a stop near an 18 % grey: the slope of ITU-R BT.709 there, in 8-bit codes; grey lies at code 104. */
export const BT709: Encoding = { kind: 'curve', codesPerStop: 40, greyCode: 104 };
