import { describe, expect, it } from 'vitest';
import { stopsBetween } from '../../../src/core/picture/exposure/encoding.ts';
import { fitGain } from '../../../src/core/picture/exposure/fit-gain.ts';
import { matchColour, matchExposure } from '../../../src/core/picture/exposure/match-exposure.ts';
import type { ColourFrame, LumaFrame } from '../../../src/core/picture/frame.ts';
import { lumaFrame } from '../../../src/core/picture/frame.ts';
import { spatialNoise, temporalNoise } from '../../../src/core/picture/noise/noise.ts';
import { followCamera } from '../../../src/core/picture/motion/follow-camera.ts';
import { boxInPlatePx, checkPlate } from '../../../src/core/picture/plate/check-plate.ts';
import { spillOf } from '../../../src/core/picture/screen/spill.ts';
import { cadenceOf } from '../../../src/core/picture/stream/cadence.ts';
import { watchFrames } from '../../../src/core/picture/stream/watch-frames.ts';
import { gaussianFrom, randomFrom } from '../../support/random.ts';
import { pair } from '../../support/picture-cases.ts';
import { makeScene } from '../../support/scene.ts';

function firstOf(frames: readonly LumaFrame[]): LumaFrame {
  const first = frames[0];
  if (first === undefined) throw new Error('no frame');
  return first;
}

describe('exposure', () => {
  it('finds a line exactly when a third of the values lies elsewhere', () => {
    const x = Float32Array.from({ length: 900 }, (_, i) => 20 + (i % 180));
    const y = x.map((value, i) => (i % 3 === 0 ? 60 : 1.12 * value + 4));
    const fit = fitGain(x, y);
    expect(fit?.gain).toBeCloseTo(1.12, 4);
    expect(fit?.offset).toBeCloseTo(4, 2);
  });

  it('is a step of codes on a log curve and a factor on linear light', () => {
    const { lead, swapped } = makeScene({ frames: 1, lead: { figures: pair(105) }, swapped: { figures: pair(105, true), offset: 9 } });
    const log = matchExposure(firstOf(lead), firstOf(swapped), { kind: 'log', codesPerStop: 18 });
    if (log.kind === 'cannot-tell') throw new Error(log.why);
    expect(log.stops).toBeCloseTo(0.5, 1);
    expect(Math.abs(log.stops - 0.5)).toBeLessThan(0.02);
    expect(stopsBetween(50, 100, { kind: 'linear' })).toBe(1);
  });

  it('gives white balance as stops of red and blue against green', () => {
    const { lead } = makeScene({ frames: 1, noise: 0.5 });
    const { values } = firstOf(lead);
    const first: ColourFrame = { width: 320, height: 180, red: values, green: values, blue: values };
    const second: ColourFrame = { ...first, red: values.map((code) => code * 1.1), blue: values.map((code) => code * 0.9) };
    const answer = matchColour(first, second, { kind: 'linear' });
    if (answer.kind === 'cannot-tell') throw new Error(answer.why);
    expect(answer.stops).toBeCloseTo(0, 3);
    expect(answer.redStops).toBeCloseTo(Math.log2(1.1), 3);
    expect(answer.blueStops).toBeCloseTo(Math.log2(0.9), 3);
  });

  it('tells only an offset where a picture has few tones', () => {
    const flat = lumaFrame(64, 64, Float32Array.from({ length: 4096 }, (_, i) => 100 + (i % 5)));
    const answer = matchExposure(flat, { ...flat, values: flat.values.map((code) => code + 6) }, { kind: 'log', codesPerStop: 12 });
    expect(answer).toMatchObject({ kind: 'measured', offsetOnly: true, gain: 1 });
    if (answer.kind === 'measured') expect(answer.stops).toBeCloseTo(0.5, 3);
  });

  it('cannot tell black from black', () => {
    expect(matchExposure(lumaFrame(64, 64), lumaFrame(64, 64), { kind: 'linear' })).toEqual({ kind: 'cannot-tell', why: 'too few pixels are neither black nor clipped' });
  });
});

describe('noise', () => {
  it('is seen in one frame of an even picture as it is (Immerkaer 1996)', () => {
    const gaussian = gaussianFrom(randomFrom(9));
    const frame = lumaFrame(320, 180, Float32Array.from({ length: 57_600 }, (_, i) => 40 + 0.3 * (i % 320) + 1.5 * gaussian()));
    expect(spatialNoise(frame)).toBeGreaterThan(1.45);
    expect(spatialNoise(frame)).toBeLessThan(1.55);
  });

  it('is told apart by brightness', () => {
    const gaussian = gaussianFrom(randomFrom(10));
    const frame = (): LumaFrame => lumaFrame(200, 100, Float32Array.from({ length: 20_000 }, (_, i) => (i % 200 < 100 ? 40 + gaussian() : 200 + 2.5 * gaussian())));
    const floor = temporalNoise([frame(), frame(), frame(), frame(), frame(), frame(), frame(), frame()]);
    expect(floor?.byCode.map(({ code }) => Math.round(code / 10))).toEqual([4, 20]);
    expect(floor?.byCode[0]?.sigma).toBeCloseTo(1, 1);
  });

  it('needs two frames', () => {
    expect(temporalNoise([lumaFrame(8, 8)])).toBeUndefined();
  });
});

describe('spill', () => {
  it.each([
    // Worked by hand from the colour differences of Smith and Blinn 1996.
    [60, 180, 70, 110, 115, 0.611],
    [200, 160, 140, -40, -10, 0],
    [120, 130, 118, 10, 11, 0.077],
    [90, 140, 100, 40, 45, 0.286],
    [30, 200, 40, 160, 165, 0.8],
  ])('of (%i, %i, %i) is %i over the stronger, %i over the mean, %f of the green', (red, green, blue, overMax, overMean, share) => {
    const spill = spillOf(red, green, blue);
    expect(spill.excessOverMax).toBe(overMax);
    expect(spill.excessOverMean).toBe(overMean);
    expect(spill.share).toBeCloseTo(share, 3);
    expect(spillOf(red, blue, green, 'blue')).toEqual(spill);
  });
});

describe('a clean plate', () => {
  it('is blind where the passes disagree, and says where', () => {
    const scene = makeScene({ frames: 6, lead: { figures: [{ x: 75, height: 105, stride: 0, tone: 40 }] }, swapped: { figures: [{ x: 75, height: 105, stride: 0, tone: 190 }] } });
    const check = checkPlate(scene.lead, scene.swapped, scene.clean, 1);
    if (check.kind === 'cannot-tell') throw new Error(check.why);
    const [blind] = check.blind;
    expect(Math.abs((blind?.left ?? 0) + (blind?.width ?? 0) / 2 - 75)).toBeLessThan(4);
    expect(blind?.height).toBeGreaterThan(90);
  });

  it('tells the frames in which someone walks through', () => {
    const { lead, swapped, clean } = makeScene({ frames: 10, clean: { figures: [{ x: (t) => (t === 3 || t === 4 ? 150 + 9 * t : -300), height: 90 }] } });
    const check = checkPlate(lead, swapped, clean, 1);
    expect(check.kind === 'measured' && check.activity.frames).toEqual([3, 4]);
  });

  it('cannot be told without its passes', () => {
    expect(checkPlate([], [], [], 1).kind).toBe('cannot-tell');
  });

  it('has its places in px of the plate', () => {
    expect(boxInPlatePx({ left: 10, top: 5, width: 3, height: 4 }, { width: 320, height: 180 }, { width: 4096, height: 2304 })).toEqual({ left: 128, top: 64, width: 39, height: 52 });
  });
});

describe('frames', () => {
  it('are repeats when their hashes are equal, whatever the proxy shows', () => {
    const watcher = watchFrames({ kind: 'linear' });
    const still = lumaFrame(32, 18, new Float32Array(576).fill(90));
    for (const hash of ['a', 'b', 'c', 'c', 'c', 'd']) watcher.push(still, hash);
    expect(watcher.finish()).toMatchObject({ frozen: [{ start: 2, end: 5 }], repeated: [], repeatsAre: 'certain' });
  });

  it('of a clip that shows no change at all are not accused with certainty', () => {
    const watcher = watchFrames({ kind: 'linear' });
    const still = lumaFrame(32, 18, new Float32Array(576).fill(90));
    for (let i = 0; i < 6; i++) watcher.push(still);
    expect(watcher.finish().repeatsAre).toBe('unsure');
  });

  it('of an empty clip and of one frame have no faults', () => {
    expect(watchFrames({ kind: 'linear' }).finish()).toMatchObject({ frames: 0, frozen: [], black: [] });
    const one = followCamera();
    one.push(lumaFrame(64, 36));
    expect(one.finish().kind).toBe('cannot-tell');
  });

  it('repeat in a cadence only when most keep it', () => {
    expect(cadenceOf([4, 9, 14, 19])).toEqual({ every: 5, repeats: 4 });
    expect(cadenceOf([4, 9, 11, 30, 31])).toBeUndefined();
    expect(cadenceOf([4, 9])).toBeUndefined();
  });
});
