import { describe, expect, it } from 'vitest';
import { syncBySound } from '../../../../src/core/picture/sync/sync-by-sound.ts';
import { bursts, hiss, hum, mix, playback, speech } from './make-sound.ts';

const at24 = { rate: { num: 24, den: 1 }, windowS: 4 };

describe('sync by guide sound', () => {
  const heard = [Infinity, -6, -12].flatMap((decibels) => [1, 2].map((seed) => ({ decibels, seed, delayS: seed === 1 ? 0.735 : -1.34 })));

  it.each(heard)('finds playback $decibels dB against new speech to the frame (scene $seed, $delayS s)', ({ decibels, seed, delayS }) => {
    const [lead, swapped] = playback({ seed, decibels, delayS });
    expect(syncBySound(lead, swapped, at24)).toMatchObject({ kind: 'measured', offset: Math.round(delayS * 24) });
  });

  it('finds playback under new speech in both passes', () => {
    const [lead, swapped] = playback({ seed: 5, decibels: -6, delayS: 1.21, bothSpeak: true });
    expect(syncBySound(lead, swapped, at24)).toMatchObject({ kind: 'measured', offset: 29 });
  });

  it.each([6, 7])('gives the right frame or none for playback 20 dB under new speech (scene %i)', (seed) => {
    const [lead, swapped] = playback({ seed, decibels: -20, delayS: 0.735 });
    const answer = syncBySound(lead, swapped, at24);
    expect(answer.kind === 'measured' ? answer.offset : 18).toBe(18);
  });

  it('is not led astray by mains hum in both', () => {
    const [lead, swapped] = playback({ seed: 8, decibels: -6, delayS: 0.9 });
    expect(syncBySound(mix(lead, hum(20, 100, 0.1)), mix(swapped, hum(20, 100, 0.1)), at24)).toMatchObject({ kind: 'measured', offset: 22 });
  });

  it.each([[{ num: 24_000, den: 1001 }, 18], [{ num: 25, den: 1 }, 18], [{ num: 30_000, den: 1001 }, 22], [{ num: 60, den: 1 }, 44]] as const)('counts in frames of the rate %j', (rate, offset) => {
    const [lead, swapped] = playback({ seed: 9, decibels: Infinity, delayS: 0.735 });
    expect(syncBySound(lead, swapped, { rate, windowS: 4 })).toMatchObject({ kind: 'measured', offset });
  });

  it('finds it where timecode expects it, far from head to head', () => {
    const [lead, swapped] = playback({ seed: 10, decibels: -6, delayS: -8.5 });
    expect(syncBySound(lead, swapped, { ...at24, expectedOffset: -200 })).toMatchObject({ kind: 'measured', offset: -204 });
    expect(syncBySound(lead, swapped, at24).kind).toBe('cannot-tell');
  });

  it.each([11, 12, 13, 14])('makes nothing of two performances that share no sound (pair %i)', (seed) => {
    expect(syncBySound(speech(20, seed), speech(20, seed + 500), at24).kind).toBe('cannot-tell');
  });

  it('makes nothing of a hum that both carry', () => {
    expect(syncBySound(mix(speech(20, 15), hum(20, 100, 0.2)), mix(speech(20, 16), hum(20, 100, 0.2)), at24).kind).toBe('cannot-tell');
  });

  it('says of beeps a second apart that they repeat', () => {
    const beeps = (first: number): Float32Array => bursts(20, Array.from({ length: 20 }, (_, i) => i + first), 'beep');
    const answer = syncBySound(mix(beeps(0.2), hiss(20, 1)), mix(beeps(0.5), hiss(20, 2)), at24);
    expect(answer).toMatchObject({ kind: 'cannot-tell', why: expect.stringMatching(/repeats every 1\.00 s/u) });
  });

  it.each([21, 22, 23])('never takes a lone clap under speech for more than it is (pair %i)', (seed) => {
    const answer = syncBySound(mix(bursts(20, [3], 'clap', seed), speech(20, seed)), mix(bursts(20, [3.735], 'clap', seed + 1), speech(20, seed + 2)), at24);
    expect(answer.kind === 'measured' ? answer.offset : 18).toBe(18);
  });

  it('refuses one offset when the clocks drift, and says by how much', () => {
    const [lead, swapped] = playback({ seed: 24, decibels: -6, delayS: 0.735, seconds: 60, speed: 1.001 });
    const answer = syncBySound(lead, swapped, at24);
    expect(answer.kind).toBe('cannot-tell');
    const ppm = answer.kind === 'cannot-tell' ? Number(/by about (\d+) ppm/u.exec(answer.why)?.[1]) : NaN;
    expect(Math.abs(ppm - 1000)).toBeLessThan(200);
  });

  it('bears the drift that good clocks have', () => {
    const [lead, swapped] = playback({ seed: 25, decibels: -6, delayS: 0.735, seconds: 30, speed: 1.00001 });
    expect(syncBySound(lead, swapped, at24)).toMatchObject({ kind: 'measured', offset: 18 });
  });

  it.each([
    { name: 'silence', lead: new Float32Array(160_000), why: /silent/u },
    { name: 'no sound at all', lead: new Float32Array(0), why: /shorter than/u },
    { name: 'a second of sound', lead: speech(1, 1), why: /shorter than/u },
  ])('cannot tell from $name', ({ lead, why }) => {
    expect(syncBySound(lead, speech(20, 26), at24)).toMatchObject({ kind: 'cannot-tell', why: expect.stringMatching(why) });
  });

  it('works with sound that ends before the picture does', () => {
    const [lead, swapped] = playback({ seed: 27, decibels: Infinity, delayS: 0.735 });
    expect(syncBySound(lead, swapped.subarray(0, 9 * 8000), at24)).toMatchObject({ kind: 'measured', offset: 18 });
  });
});
