import FFT from 'fft.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { LumaFrame } from '../../../src/core/picture/frame.ts';
import { lumaFrame } from '../../../src/core/picture/frame.ts';
import { checkParallax } from '../../../src/core/picture/registration/parallax.ts';
import { correlatePhases } from '../../../src/core/picture/registration/phase-correlation.ts';
import { inPlatePx, placeInPlatePx } from '../../../src/core/picture/registration/plate-px.ts';
import { register } from '../../../src/core/picture/registration/register.ts';
import { registerPasses } from '../../../src/core/picture/registration/register-passes.ts';
import { compose, IDENTITY, inverse, largestMove, layOnto } from '../../../src/core/picture/registration/similarity.ts';
import { outsideProgram } from '../../support/outside.ts';
import { photograph } from '../../support/photographs.ts';
import { pair } from '../../support/picture-cases.ts';
import type { ScenePass } from '../../support/scene.ts';
import { makeScene } from '../../support/scene.ts';

function firstOf(frames: readonly LumaFrame[]): LumaFrame {
  const first = frames[0];
  if (first === undefined) throw new Error('no frame');
  return first;
}

/** A frame turned round by a fraction of a pixel in the frequency domain by fft.js, as scikit-image's example moves its picture. */
function shiftedCyclically(frame: LumaFrame, dx: number, dy: number): LumaFrame {
  const { width, height } = frame;
  const turnRow = (values: readonly number[], by: number): readonly number[] => {
    const fft = new FFT(values.length);
    const spectrum = fft.createComplexArray();
    fft.realTransform(spectrum, [...values]);
    fft.completeSpectrum(spectrum);
    for (let k = 0; k < values.length; k++) {
      const cycles = k <= values.length / 2 ? k : k - values.length;
      const angle = (-2 * Math.PI * cycles * by) / values.length;
      const [re, im] = [Number(spectrum[2 * k]), Number(spectrum[2 * k + 1])];
      spectrum[2 * k] = re * Math.cos(angle) - im * Math.sin(angle);
      spectrum[2 * k + 1] = re * Math.sin(angle) + im * Math.cos(angle);
    }
    const back = fft.createComplexArray();
    fft.inverseTransform(back, spectrum);
    return values.map((_, i) => Number(back[2 * i]));
  };
  const rows = Array.from({ length: height }, (_, y) => turnRow(Array.from(frame.values.subarray(y * width, (y + 1) * width)), dx));
  const out = new Float32Array(width * height);
  for (let x = 0; x < width; x++) turnRow(rows.map((row) => row[x] ?? 0), dy).forEach((value, y) => { out[y * width + x] = value; });
  return lumaFrame(width, height, out);
}

describe('a similarity', () => {
  const similarities = fc.record({ dx: fc.double({ min: -9, max: 9, noNaN: true }), dy: fc.double({ min: -9, max: 9, noNaN: true }), scale: fc.double({ min: 0.8, max: 1.25, noNaN: true }), rotationDeg: fc.double({ min: -20, max: 20, noNaN: true }) });

  it('undone leaves nothing', () => {
    fc.assert(fc.property(similarities, (similarity) => {
      expect(largestMove(compose(inverse(similarity), similarity), { width: 320, height: 180 })).toBeLessThan(1e-9);
    }));
  });

  it('scales a shift to the raster of the plate, each way by its own factor', () => {
    expect(inPlatePx({ ...IDENTITY, dx: 0.5, dy: -1 }, { width: 320, height: 134 }, { width: 4096, height: 3432 })).toEqual({ ...IDENTITY, dx: 6.4, dy: -3432 / 134 });
    expect(placeInPlatePx({ x: 0, y: 0 }, { width: 320, height: 180 }, { width: 640, height: 360 })).toEqual({ x: 0.5, y: 0.5 });
  });
});

describe('phase correlation', () => {
  it.skipIf(!outsideProgram('ffmpeg'))('finds the known shift of the registration example in the documentation of scikit-image', () => {
    // scikit-image, "Image Registration", plot_register_translation: known offset (rows, columns) (-22.4, 13.32), found to 1/100 px.
    const still = photograph('alpine');
    const frame = lumaFrame(512, 256, Float32Array.from({ length: 512 * 256 }, (_, i) => still.values[(300 + Math.floor(i / 512)) * still.width + 400 + (i % 512)] ?? 0));
    const best = correlatePhases(frame, shiftedCyclically(frame, 13.32, -22.4), { reach: 32, taper: 0 }).peaks[0];
    expect(best?.dx).toBeCloseTo(13.32, 1);
    expect(best?.dy).toBeCloseTo(-22.4, 1);
    expect(Math.hypot((best?.dx ?? 0) - 13.32, (best?.dy ?? 0) + 22.4)).toBeLessThan(0.015);
  });
});

describe('registration', () => {
  it('lays the swapped picture back onto the lead', () => {
    const { lead, swapped } = makeScene({ frames: 1, noise: 0, swapped: { camera: { dx: 1.7, dy: -0.8, scale: 1.01, rotationDeg: 0.5 } } });
    const answer = register(firstOf(lead), firstOf(swapped));
    if (answer.kind === 'cannot-tell') throw new Error(answer.why);
    const laid = layOnto(firstOf(swapped), answer);
    const off = (frame: LumaFrame): number => frame.values.reduce((sum, value, i) => sum + Math.abs(value - (firstOf(lead).values[i] ?? 0)), 0) / frame.values.length;
    expect(off(laid)).toBeLessThan(off(firstOf(swapped)) / 4);
  });

  it('refuses pictures of unlike size and says so', () => {
    const answer = register(lumaFrame(320, 180), lumaFrame(320, 134));
    expect(answer).toEqual({ kind: 'cannot-tell', why: 'the pictures differ in size: 320 x 180 and 320 x 134' });
  });

  it('never says more than it knows: three times what it measures where nothing moved', () => {
    const { lead, swapped } = makeScene({ frames: 3, noise: 2, lead: { figures: pair(105) }, swapped: { figures: pair(105, true), camera: { dx: 0.4 } } });
    const answer = registerPasses(lead, swapped, 2);
    if (answer.kind === 'cannot-tell') throw new Error(answer.why);
    expect(answer.pairs).toBe(3);
    expect(answer.dx).toBeCloseTo(0.4, 1);
    expect(answer.nullPx).toBeLessThan(0.05);
    expect(answer.uncertaintyPx).toBeGreaterThanOrEqual(3 * (answer.nullPx ?? 0));
  });

  it('cannot tell passes that have no frame', () => {
    expect(registerPasses([], [])).toEqual({ kind: 'cannot-tell', why: 'a pass has no frame' });
  });
});

describe('the check for parallax', () => {
  const plain: ScenePass = { figures: pair(60) };

  it('finds nothing in passes from one place', () => {
    const { lead, swapped } = makeScene({ frames: 1, lead: plain, swapped: { camera: { dx: 0.7, dy: 0.3 } } });
    const answer = register(firstOf(lead), firstOf(swapped));
    if (answer.kind === 'cannot-tell') throw new Error(answer.why);
    const check = checkParallax(firstOf(lead), firstOf(swapped), answer);
    expect(check.tiles.length).toBeGreaterThan(4);
    expect(check.found).toBe(false);
  });

  it('finds the right half of the set shifted by 1.5 px more than the left', () => {
    const { lead, swapped, clean } = makeScene({ frames: 1, clean: { camera: { dx: 1.5 } } });
    const [left, right] = [firstOf(swapped), firstOf(clean)];
    const torn = lumaFrame(320, 180, left.values.map((value, i) => (i % 320 < 190 ? value : (right.values[i] ?? 0))));
    const answer = register(firstOf(lead), torn);
    if (answer.kind === 'cannot-tell') throw new Error(answer.why);
    expect(checkParallax(firstOf(lead), torn, answer).found).toBe(true);
  });
});
