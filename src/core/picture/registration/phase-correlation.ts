import type { ComplexGrid } from '../fourier/fft.ts';
import { powerOfTwoFrom, transform, transformBack } from '../fourier/fft.ts';
import type { LumaFrame } from '../frame.ts';
import { scratch } from '../pixels/scratch.ts';

/** A shift of the second picture against the first, px right and down, and how high its peak stands. */
export interface ShiftPeak {
  readonly dx: number;
  readonly dy: number;
  readonly height: number;
}

/** The shifts that could be, best first (at most three; none when a picture is blank), and how far the best stands out. */
export interface PhaseCorrelation {
  readonly peaks: readonly ShiftPeak[];
  /** Peak to sidelobe ratio: how many spreads of the rest of the surface the best peak stands above its mean. */
  readonly psr: number;
}

export interface PhaseOptions {
  /** Only shifts up to this many px are looked at; a set-up shot again does not jump further. Default 16. */
  readonly reach?: number;
  /** Share of the frame that fades out at the edges; 1 is a Hann window. Default .25. */
  readonly taper?: number;
}

/** Spread of the low-pass in cycles a pixel: higher frequencies of a scaled picture are mostly aliasing and noise. */
const LOW_PASS = 0.15;
/** Half the side of the square round the best peak that does not count as sidelobe, px. */
const HOLE = 8;

/**
 * Phase correlation (Kuglin and Hines 1975; sub-pixel by a Gaussian through three values, as in Foroosh, Zerubia and Berthod
 * 2002 a peak is fitted) of two frames of one size, tapered by a Tukey window and low-passed. Both real frames share one
 * complex transform.
 */
export function correlatePhases(first: LumaFrame, second: LumaFrame, { reach = 16, taper = 0.25 }: PhaseOptions = {}): PhaseCorrelation {
  const grid = tapered(first, second, taper);
  transform(grid, first.height);
  const surface = crossPhase(grid);
  transformBack(surface);
  const peaks = peaksWithin(surface, Math.min(reach, first.width / 2 - 1, first.height / 2 - 1));
  const best = peaks[0];
  return { peaks, psr: best === undefined ? 0 : peakToSidelobe(surface, best) };
}

function tapered(first: LumaFrame, second: LumaFrame, taper: number): ComplexGrid {
  const { width, height } = first;
  const [across, down] = [tukey(width, taper), tukey(height, taper)];
  const padded = { width: powerOfTwoFrom(width), height: powerOfTwoFrom(height) };
  const [meanFirst, meanSecond] = [weightedMean(first, across, down), weightedMean(second, across, down)];
  const re = scratch('phase, real', padded.width * padded.height).fill(0);
  const im = scratch('phase, imaginary', padded.width * padded.height).fill(0);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const weight = (across[x] ?? 0) * (down[y] ?? 0);
      re[y * padded.width + x] = weight * ((first.values[y * width + x] ?? 0) - meanFirst);
      im[y * padded.width + x] = weight * ((second.values[y * width + x] ?? 0) - meanSecond);
    }
  }
  return { ...padded, re, im };
}

/** A window that is 1 in the middle and falls to 0 by a cosine over `taper` / 2 of the length at each end. */
function tukey(length: number, taper: number): Float32Array {
  const edge = (taper * (length - 1)) / 2;
  return Float32Array.from({ length }, (_, i) => {
    const inward = Math.min(i, length - 1 - i);
    return inward >= edge ? 1 : 0.5 - 0.5 * Math.cos((Math.PI * inward) / edge);
  });
}

function weightedMean({ width, values }: LumaFrame, across: Float32Array, down: Float32Array): number {
  let [sum, weights] = [0, 0];
  for (let i = 0; i < values.length; i++) {
    const weight = (across[i % width] ?? 0) * (down[Math.floor(i / width)] ?? 0);
    sum += weight * (values[i] ?? 0);
    weights += weight;
  }
  return sum / weights;
}

/** The two spectra parted by their symmetry, multiplied, stripped of their strength and low-passed. */
function crossPhase({ width, height, re, im }: ComplexGrid): ComplexGrid {
  const outRe = scratch('phase, surface', width * height).fill(0);
  const outIm = scratch('phase, imaginary surface', width * height).fill(0);
  const passAcross = lowPass(width);
  const passDown = lowPass(height);
  for (let v = 0; v < height; v++) {
    const mirrorRow = ((height - v) % height) * width;
    for (let u = 0; u < width; u++) {
      const at = v * width + u;
      const mirror = mirrorRow + ((width - u) % width);
      const aRe = (re[at] ?? 0) + (re[mirror] ?? 0);
      const aIm = (im[at] ?? 0) - (im[mirror] ?? 0);
      const bRe = (im[at] ?? 0) + (im[mirror] ?? 0);
      const bIm = (re[mirror] ?? 0) - (re[at] ?? 0);
      const crossRe = aRe * bRe + aIm * bIm;
      const crossIm = aRe * bIm - aIm * bRe;
      const strength = Math.sqrt(crossRe * crossRe + crossIm * crossIm);
      if (!(strength > 1e-6)) continue;
      const weight = ((passAcross[u] ?? 0) * (passDown[v] ?? 0)) / strength;
      outRe[at] = crossRe * weight;
      outIm[at] = crossIm * weight;
    }
  }
  return { width, height, re: outRe, im: outIm };
}

function lowPass(length: number): Float32Array {
  return Float32Array.from({ length }, (_, i) => {
    const cycles = Math.min(i, length - i) / length;
    return Math.exp(-(cycles * cycles) / (2 * LOW_PASS * LOW_PASS));
  });
}

function peaksWithin(surface: ComplexGrid, reach: number): readonly ShiftPeak[] {
  const value = valueAt(surface);
  const found: ShiftPeak[] = [];
  for (let dy = -reach; dy <= reach; dy++) {
    for (let dx = -reach; dx <= reach; dx++) {
      const height = value(dx, dy);
      if (height > 0 && isLocalPeak(value, dx, dy, height)) found.push({ dx, dy, height });
    }
  }
  found.sort((a, b) => b.height - a.height || a.dy - b.dy || a.dx - b.dx);
  return found.slice(0, 3).map(({ dx, dy, height }) => ({
    dx: dx + between(value(dx - 1, dy), height, value(dx + 1, dy)),
    dy: dy + between(value(dx, dy - 1), height, value(dx, dy + 1)),
    height,
  }));
}

function valueAt({ width, height, re }: ComplexGrid): (dx: number, dy: number) => number {
  return (dx, dy) => re[((dy + height) % height) * width + ((dx + width) % width)] ?? 0;
}

function isLocalPeak(value: (dx: number, dy: number) => number, dx: number, dy: number, height: number): boolean {
  for (let y = -1; y <= 1; y++) for (let x = -1; x <= 1; x++) if (value(dx + x, dy + y) > height) return false;
  return true;
}

/** Where the top of a Gaussian through three neighbours lies, -1 to 1 from the middle one. */
function between(before: number, middle: number, after: number): number {
  const floor = middle * 1e-3;
  const [low, top, high] = [Math.log(Math.max(before, floor)), Math.log(middle), Math.log(Math.max(after, floor))];
  const bend = low - 2 * top + high;
  return bend === 0 ? 0 : Math.min(1, Math.max(-1, (0.5 * (low - high)) / bend));
}

function peakToSidelobe({ width, height, re }: ComplexGrid, peak: ShiftPeak): number {
  const [peakX, peakY] = [Math.round(peak.dx), Math.round(peak.dy)];
  let [sum, squares, count] = [0, 0, 0];
  for (let y = 0; y < height; y++) {
    const inHoleDown = cyclic(y - peakY, height) <= HOLE;
    for (let x = 0; x < width; x++) {
      if (inHoleDown && cyclic(x - peakX, width) <= HOLE) continue;
      const value = re[y * width + x] ?? 0;
      sum += value;
      squares += value * value;
      count++;
    }
  }
  const mean = sum / count;
  const variance = squares / count - mean * mean;
  return variance > 0 ? (peak.height - mean) / Math.sqrt(variance) : 0;
}

function cyclic(away: number, length: number): number {
  const wrapped = ((away % length) + length) % length;
  return Math.min(wrapped, length - wrapped);
}
