/**
 * One decoded frame as the measuring sees it: row by row from the top left, `width * height` values. A value is an 8-bit
 * code that keeps its fractions (a 16-bit sample divided by 257), because averaging a plate down to a proxy leaves noise
 * far below one code.
 */
export interface LumaFrame {
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
}

/** The same for colour: three planes of one size, in the codes of the proxy. */
export interface ColourFrame {
  readonly width: number;
  readonly height: number;
  readonly red: Float32Array;
  readonly green: Float32Array;
  readonly blue: Float32Array;
}

/** A frame of the given size, all zero unless values are given. @throws {RangeError} when the values do not fill it. */
export function lumaFrame(width: number, height: number, values: Float32Array = new Float32Array(width * height)): LumaFrame {
  if (values.length !== width * height) throw new RangeError(`${values.length} values cannot fill ${width} x ${height}`);
  return { width, height, values };
}

/** A frame from 16-bit samples, in 8-bit codes with fractions; `into` may be given to be written over. @throws {RangeError} when the samples do not fill it. */
export function frameFromSixteenBit(width: number, height: number, samples: Uint16Array, into: Float32Array = new Float32Array(samples.length)): LumaFrame {
  for (let i = 0; i < samples.length; i++) into[i] = (samples[i] ?? 0) / 257;
  return lumaFrame(width, height, into);
}

/** True when both have the same width and height, the least two frames need to be compared. */
export function sameSize(a: LumaFrame, b: LumaFrame): boolean {
  return a.width === b.width && a.height === b.height;
}
