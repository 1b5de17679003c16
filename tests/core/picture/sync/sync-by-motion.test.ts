import { describe, expect, it } from 'vitest';
import type { MotionTrack } from '../../../../src/core/picture/sync/correlate-motion.ts';
import { syncByMotion } from '../../../../src/core/picture/sync/sync-by-motion.ts';
import { gaussianFrom, randomFrom } from '../../../support/random.ts';

type Path = (t: number) => readonly [number, number];

/** Speeds of a path seen from frame `from` on, at a speed, with noise. */
function track(path: Path, { from = 0, frames = 160, speed = 1, noise = 0.02, seed = 1 }: { from?: number; frames?: number; speed?: number; noise?: number; seed?: number }): MotionTrack {
  const gaussian = gaussianFrom(randomFrom(seed));
  const step = (axis: 0 | 1) => Float64Array.from({ length: frames }, (_, t) => path((from + t + 1) * speed)[axis] - path((from + t) * speed)[axis] + noise * gaussian());
  return { dx: step(0), dy: step(1) };
}

/** A pan that starts, swells and rests; a hand that never rests; both far slower than the frame rate. */
const pan = (seed: number): Path => {
  const random = randomFrom(seed);
  const rests = Array.from({ length: 5 }, (_, i) => ({ at: 15 + 50 * i + 20 * random(), px: 25 + 50 * random(), long: 8 + 10 * random(), up: random() - 0.5 }));
  return (t) => [rests.reduce((sum, { at, px, long }) => sum + px / (1 + Math.exp(-(t - at) / (long / 3))), 0), rests.reduce((sum, { at, px, long, up }) => sum + (up * px) / (1 + Math.exp(-(t - at) / (long / 3))), 0)];
};
const hand = (seed: number): Path => {
  const random = randomFrom(seed);
  const waves = Array.from({ length: 12 }, () => ({ period: 14 + 90 * random(), px: 3 * random(), turn: 6.3 * random(), tilt: 6.3 * random() }));
  return (t) => [waves.reduce((sum, w) => sum + w.px * Math.sin((6.2832 * t) / w.period + w.turn), 0), waves.reduce((sum, w) => sum + w.px * Math.sin((6.2832 * t) / w.period + w.tilt), 0)];
};

describe('sync by camera motion', () => {
  const moves = [1, 2, 3, 4, 5].flatMap((seed) => [{ name: `pan ${seed}`, path: pan(seed), seed }, { name: `hand ${seed}`, path: hand(seed), seed }]);

  it.each(moves)('finds the offset of $name to the frame', ({ path, seed }) => {
    const offset = 7 * seed - 19;
    const answer = syncByMotion(track(path, { from: 40, seed }), track(path, { from: 40 - offset, seed: seed + 100 }));
    expect(answer).toMatchObject({ kind: 'measured', offset });
  });

  it.each(moves)('takes no other move for $name', ({ path, seed, name }) => {
    const other = name.startsWith('pan') ? pan(seed + 50) : hand(seed + 50);
    expect(syncByMotion(track(path, { seed }), track(other, { seed: seed + 100 })).kind).toBe('cannot-tell');
  });

  it.each([
    { name: 'a lock-off', path: (): readonly [number, number] => [0, 0], why: /stands still or moves at one speed/u },
    { name: 'a pan of one speed', path: (t: number): readonly [number, number] => [0.8 * t, 0], why: /stands still or moves at one speed/u },
  ])('refuses $name, which looks the same at any offset', ({ path, why }) => {
    const answer = syncByMotion(track(path, {}), track(path, { from: 12, seed: 2 }));
    expect(answer).toMatchObject({ kind: 'cannot-tell', why: expect.stringMatching(why) });
  });

  it('refuses a lock-off beside a pass that moves', () => {
    expect(syncByMotion(track(pan(1), {}), track(() => [0, 0], { seed: 2 }))).toMatchObject({ kind: 'cannot-tell' });
  });

  it('says that a move was run at another speed instead of giving an offset', () => {
    const answer = syncByMotion(track(hand(3), {}), track(hand(3), { speed: 1.03, seed: 2 }));
    expect(answer).toMatchObject({ kind: 'cannot-tell', why: expect.stringMatching(/3 % (?:slower|faster)/u) });
  });

  it.each([{ dx: [], dy: [] }, { dx: [1, 2], dy: [0, 1] }])('cannot tell from a clip of a frame or two', (short) => {
    expect(syncByMotion(short, track(pan(1), {}))).toMatchObject({ kind: 'cannot-tell' });
  });

  it('looks only within the window that timecode allows', () => {
    const [a, b] = [track(hand(2), { from: 40 }), track(hand(2), { from: 10, seed: 2 })];
    expect(syncByMotion(a, b, { windowFrames: 10, expectedOffset: 25 })).toMatchObject({ kind: 'measured', offset: 30 });
    expect(syncByMotion(a, b, { windowFrames: 10, expectedOffset: -25 })).toMatchObject({ kind: 'cannot-tell' });
  });
});
