import { powerOfTwoFrom, transform, transformBack } from '../fourier/fft.ts';
import { SOUND_RATE } from './signal.ts';

/** How far the second sound lags the first, and how far that stands out among all lags tried. Seconds. */
export interface SoundPeak {
  /** Sample lag: the second sound has at sample n + lag what the first has at n. */
  readonly lag: number;
  /** Height against the next best lag more than 120 ms away. */
  readonly overNext: number;
  /** Height above the mean of all lags, in their spreads. */
  readonly overAll: number;
  /** Seconds after which the answer repeats itself nearly as well, as with beeps; absent when it does not. */
  readonly periodS?: number;
}

/** Lags to try, samples, both included. */
export interface LagRange {
  readonly from: number;
  readonly to: number;
}

/** Speech and claps; hum lies below, hiss above. Hz. */
const [LOWEST_HZ, HIGHEST_HZ] = [150, 3400];
/** How far loudness is taken out of the spectrum: 1 would leave phase alone, which lifts the noise between the tones. */
const WHITENING = 0.8;
/** Energy is summed over this long: an echo spreads one arrival over many samples. 10 ms. */
const ARRIVAL = 0.01 * SOUND_RATE;
/** Lags this near to the peak are the same arrival and its echoes. 120 ms. */
const ECHO = 0.12 * SOUND_RATE;
/** The sound itself comes before its echoes: the first sample that reaches this share of the strongest. */
const FIRST_SHARE = 0.6;
/** Repeats are looked for without whitening, which would favour the lag at which the ends of the tracks meet. */
const REPEAT_SHARE = 0.8;
const VALLEY_SHARE = 0.5;
const REGULAR = 0.02 * SOUND_RATE;

/**
 * Generalised cross-correlation of two sounds (Knapp & Carter, "The generalized correlation method for estimation of time
 * delay", 1976), whitened, its energy gathered over 10 ms. Undefined when either is silent or no lag is in range. Repeats cost a
 * third more time to find.
 */
export function correlateSound(first: Float32Array, second: Float32Array, range: LagRange, findRepeats = true): SoundPeak | undefined {
  const from = Math.max(range.from, 1 - first.length);
  const to = Math.min(range.to, second.length - 1);
  if (to - from < 2 * ECHO) return undefined;
  const cross = crossSpectrum(first, second);
  const inRange = (whitening: number): Float32Array => {
    const correlation = correlationOf(cross, whitening);
    return Float32Array.from({ length: to - from + 1 }, (_, i) => correlation[from + i < 0 ? from + i + correlation.length : from + i] ?? 0);
  };
  const peak = peakOf(inRange(WHITENING), from);
  const periodS = peak === undefined || !findRepeats ? undefined : periodOf(gathered(inRange(0)));
  return peak === undefined || periodS === undefined ? peak : { ...peak, periodS };
}

interface Spectrum {
  readonly size: number;
  readonly re: Float32Array;
  readonly im: Float32Array;
}

/** conj A times B for the frequencies that count, from one transform of both. */
function crossSpectrum(first: Float32Array, second: Float32Array): Spectrum {
  const size = powerOfTwoFrom(first.length + second.length);
  const [re, im] = [new Float32Array(size), new Float32Array(size)];
  re.set(first);
  im.set(second);
  transform({ width: size, height: 1, re, im });
  const [low, high] = [Math.ceil((LOWEST_HZ / SOUND_RATE) * size), Math.floor((HIGHEST_HZ / SOUND_RATE) * size)];
  const [outRe, outIm] = [new Float32Array(size / 2), new Float32Array(size / 2)];
  for (let k = low; k <= high; k++) {
    // A = (Z(k) + conj Z(-k)) / 2 and B = (Z(k) - conj Z(-k)) / 2i of two real sounds in one complex track.
    const [zr, zi, wr, wi] = [re[k] ?? 0, im[k] ?? 0, re[size - k] ?? 0, im[size - k] ?? 0];
    const [ar, ai, br, bi] = [(zr + wr) / 2, (zi - wi) / 2, (zi + wi) / 2, (wr - zr) / 2];
    outRe[k] = ar * br + ai * bi;
    outIm[k] = ar * bi - ai * br;
  }
  return { size, re: outRe, im: outIm };
}

/** At index lag (negative ones from the end): how well second(n + lag) goes with first(n). */
function correlationOf({ size, re, im }: Spectrum, whitening: number): Float32Array {
  const [outRe, outIm] = [new Float32Array(size), new Float32Array(size)];
  for (let k = 1; k < size / 2; k++) {
    const [r, i] = [re[k] ?? 0, im[k] ?? 0];
    const power = r * r + i * i;
    if (power === 0) continue;
    const share = power ** (-whitening / 2);
    outRe[k] = outRe[size - k] = r * share;
    outIm[k] = i * share;
    outIm[size - k] = -i * share;
  }
  transformBack({ width: size, height: 1, re: outRe, im: outIm });
  return outRe;
}

function peakOf(correlation: Float32Array, from: number): SoundPeak | undefined {
  const energy = gathered(correlation);
  const at = highest(energy, () => true);
  const top = energy[at] ?? 0;
  if (!(top > 0)) return undefined;
  const next = energy[highest(energy, (i) => Math.abs(i - at) > ECHO)] ?? 0;
  const roots = energy.map(Math.sqrt);
  const mean = roots.reduce((sum, root) => sum + root, 0) / roots.length;
  const sd = Math.sqrt(roots.reduce((sum, root) => sum + (root - mean) ** 2, 0) / roots.length);
  return {
    lag: from + firstArrival(correlation, at),
    overNext: next > 0 ? Math.sqrt(top / next) : Infinity,
    overAll: sd > 0 ? (Math.sqrt(top) - mean) / sd : Infinity,
  };
}

/** Running sums of the squares over 10 ms, centred. */
function gathered(correlation: Float32Array): Float64Array {
  const half = ARRIVAL / 2;
  const out = new Float64Array(correlation.length);
  let sum = 0;
  for (let i = -half; i < correlation.length; i++) {
    sum += (correlation[i + half] ?? 0) ** 2 - (correlation[i - half - 1] ?? 0) ** 2;
    if (i >= 0) out[i] = Math.max(0, sum);
  }
  return out;
}

function highest(values: Float64Array, counts: (i: number) => boolean): number {
  let at = -1;
  for (let i = 0; i < values.length; i++) if ((at < 0 || (values[i] ?? 0) > (values[at] ?? 0)) && counts(i)) at = i;
  return at;
}

function firstArrival(correlation: Float32Array, at: number): number {
  const half = ARRIVAL / 2;
  let most = 0;
  for (let i = at - half; i <= at + half; i++) most = Math.max(most, Math.abs(correlation[i] ?? 0));
  for (let i = at - half; i <= at + half; i++) if (Math.abs(correlation[i] ?? 0) >= FIRST_SHARE * most) return i;
  return at;
}

/** Three or more peaks nearly alike at one spacing, with valleys between: something that repeats. Hum has no valleys. */
function periodOf(energy: Float64Array): number | undefined {
  const left = energy.slice();
  const top = energy[highest(energy, () => true)] ?? 0;
  const peaks: number[] = [];
  while (peaks.length < 40) {
    const at = highest(left, () => true);
    if (at < 0 || (left[at] ?? 0) < REPEAT_SHARE * REPEAT_SHARE * top) break;
    peaks.push(at);
    left.fill(0, Math.max(0, at - ECHO), at + ECHO + 1);
  }
  if (peaks.length < 3) return undefined;
  const sorted = peaks.toSorted((a, b) => a - b);
  const spacings = sorted.slice(1).map((at, i) => at - (sorted[i] ?? 0));
  const valleys = sorted.slice(1).every((at, i) => energy.subarray(sorted[i], at).some((value) => value < VALLEY_SHARE * VALLEY_SHARE * top));
  const shortest = Math.min(...spacings);
  const regular = spacings.every((spacing) => Math.abs(spacing - Math.round(spacing / shortest) * shortest) < REGULAR);
  return valleys && regular ? shortest / SOUND_RATE : undefined;
}
