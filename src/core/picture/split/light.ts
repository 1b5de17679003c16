import { fitGain } from '../exposure/fit-gain.ts';

/** Brings a frame into the light of another picture of the same place: code = gain x code + offset. */
export interface Light {
  readonly gain: number;
  readonly offset: number;
}

const AS_IT_IS: Light = { gain: 1, offset: 0 };
/** Pixels that are enough for a fit. */
const ENOUGH = 1800;
/** Fewer agreeing than this: too much differs for a fit to be believed. */
const LEAST_AGREEING = 0.35;
/** With fewer codes from dark to bright a gain cannot be told. */
const LEAST_TONAL_RANGE = 20;

/** The light that makes `values` like `reference` wherever they show the same; as it is where that cannot be told. */
export function lightTo(values: Float32Array, reference: Float32Array): Light {
  const fit = fitGain(somePixels(values), somePixels(reference));
  return fit === undefined || fit.agreeing < LEAST_AGREEING || fit.tonalRange < LEAST_TONAL_RANGE ? AS_IT_IS : { gain: fit.gain, offset: fit.offset };
}

/** An odd step, so that the picked pixels do not stand in columns. */
function somePixels(values: Float32Array): Float32Array {
  const step = Math.floor(values.length / ENOUGH / 2) * 2 + 1;
  const some = new Float32Array(Math.ceil(values.length / step));
  for (let i = 0; i < some.length; i++) some[i] = values[i * step] ?? 0;
  return some;
}

/** Puts values into another light, in place. */
export function bringInLight(values: Float32Array, { gain, offset }: Light): void {
  for (let i = 0; i < values.length; i++) values[i] = gain * (values[i] ?? 0) + offset;
}
