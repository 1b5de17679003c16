import { gaussianFrom, randomFrom } from '../../../support/random.ts';

export const RATE = 8000;

/** Something like speech: syllables of voiced breathy tones whose pitch glides and trembles, hiss, pauses; from a seed, `seconds` long. */
export function speech(seconds: number, seed: number): Float32Array {
  const key = `${seconds} ${seed}`;
  const spoken = speeches.get(key) ?? speak(seconds, seed);
  if (speeches.size > 12) speeches.clear();
  speeches.set(key, spoken);
  return spoken;
}

const speeches = new Map<string, Float32Array>();

function speak(seconds: number, seed: number): Float32Array {
  const random = randomFrom(seed);
  const gaussian = gaussianFrom(randomFrom(seed + 77));
  const out = new Float32Array(Math.round(seconds * RATE));
  let at = Math.floor(random() * 0.2 * RATE);
  while (at < out.length) {
    const length = Math.floor((0.08 + 0.22 * random()) * RATE);
    syllable(out, at, length, random, gaussian);
    at += length + Math.floor((random() < 0.2 ? 0.3 + 0.4 * random() : 0.03 + 0.08 * random()) * RATE);
  }
  return out;
}

function syllable(out: Float32Array, at: number, length: number, random: () => number, gaussian: () => number): void {
  const pitch = 95 + 110 * random();
  const glide = 0.5 * (random() - 0.5);
  const formants = [300 + 500 * random(), 900 + 1400 * random(), 2300 + 700 * random()];
  const harmonics = Array.from({ length: Math.floor(3600 / pitch) }, (_, h) => formants.reduce((sum, f) => sum + 1 / (1 + (((h + 1) * pitch - f) / 120) ** 2), 0));
  const voiced = random() < 0.75;
  const loud = 0.3 + 0.7 * random();
  let [turn, tremble] = [0, 0];
  for (let i = 0; i < length && at + i < out.length; i++) {
    tremble = 0.995 * tremble + 0.002 * gaussian();
    turn += (2 * Math.PI * pitch * (1 + (glide * i) / length + tremble)) / RATE;
    let tone = 0;
    if (voiced) for (let h = 0; h < harmonics.length; h++) tone += (harmonics[h] ?? 0) * Math.sin((h + 1) * turn + h);
    out[at + i] = 0.12 * loud * Math.sin((Math.PI * i) / length) ** 0.7 * (tone + (voiced ? 0.12 : 0.5) * gaussian());
  }
}

/** a + gain x b, each as long as `a`. */
export function mix(a: Float32Array, b: Float32Array, gain = 1): Float32Array {
  return a.map((sample, i) => sample + gain * (b[i] ?? 0));
}

/** The sound as it is heard `seconds` later (negative: earlier), to the fraction of a sample, in a track of `length` seconds. */
export function later(sound: Float32Array, seconds: number, length: number, speed = 1): Float32Array {
  return Float32Array.from({ length: Math.round(length * RATE) }, (_, i) => {
    const from = (i - seconds * RATE) * speed;
    const whole = Math.floor(from);
    const share = from - whole;
    return (sound[whole] ?? 0) * (1 - share) + (sound[whole + 1] ?? 0) * share;
  });
}

/** The sound in a room: itself and a decaying tail, the direct sound `decibels` above the whole tail. */
export function inRoom(sound: Float32Array, seed: number, decibels: number): Float32Array {
  const gaussian = gaussianFrom(randomFrom(seed));
  const taps = Array.from({ length: 60 }, (_, i) => ({ delay: Math.round((0.008 + 0.005 * i) * RATE + 12 * gaussian()), gain: gaussian() * Math.exp(-i / 22) }));
  const energy = Math.sqrt(taps.reduce((sum, { gain }) => sum + gain * gain, 0));
  const tail = 10 ** (-decibels / 20) / energy;
  const late = new Float64Array(sound.length);
  for (const { delay, gain } of taps) for (let i = Math.max(0, delay); i < late.length; i++) late[i] = (late[i] ?? 0) + gain * (sound[i - delay] ?? 0);
  return sound.map((sample, i) => sample + tail * (late[i] ?? 0));
}

export function hum(seconds: number, hz: number, level: number): Float32Array {
  return Float32Array.from({ length: Math.round(seconds * RATE) }, (_, i) => level * (Math.sin((2 * Math.PI * hz * i) / RATE) + 0.4 * Math.sin((6 * Math.PI * hz * i) / RATE)));
}

/** Short bursts at these seconds: tones of 1 kHz (beeps) or noise (claps). */
export function bursts(seconds: number, at: readonly number[], kind: 'beep' | 'clap', seed = 1): Float32Array {
  const gaussian = gaussianFrom(randomFrom(seed));
  const out = new Float32Array(Math.round(seconds * RATE));
  for (const start of at) {
    for (let i = 0; i < (kind === 'beep' ? 0.1 : 0.03) * RATE; i++) {
      const place = Math.round(start * RATE) + i;
      if (place >= 0 && place < out.length) out[place] = (out[place] ?? 0) + (kind === 'beep' ? 0.5 * Math.sin((2 * Math.PI * 1000 * i) / RATE) : 0.8 * gaussian() * Math.exp(-i / 60));
    }
  }
  return out;
}

/** Microphone hiss. */
export function hiss(seconds: number, seed: number, level = 0.002): Float32Array {
  const gaussian = gaussianFrom(randomFrom(seed));
  return Float32Array.from({ length: Math.round(seconds * RATE) }, () => level * gaussian());
}

export function level(sound: Float32Array): number {
  return Math.sqrt(sound.reduce((sum, sample) => sum + sample * sample, 0) / sound.length);
}

/** How a pass was shot to the playback of its lead. */
export interface Playback {
  readonly seed: number;
  /** Playback against the new speech of the swapped pass; Infinity: nobody speaks. */
  readonly decibels: number;
  readonly delayS: number;
  readonly seconds?: number;
  readonly speed?: number;
  /** New speech over it in the lead as well. */
  readonly bothSpeak?: boolean;
}

/** The lead's sound, and a pass shot to its playback: each in its own room, with hiss. */
export function playback({ seed, decibels, delayS, seconds = 20, speed = 1, bothSpeak = false }: Playback): readonly [Float32Array, Float32Array] {
  const scene = speech(seconds + 8, seed);
  const under = (heard: Float32Array, voice: number): Float32Array => {
    if (decibels === Infinity) return heard;
    const own = speech(seconds, seed + 1000 * voice);
    return mix(own, heard, (level(own) / level(heard)) * 10 ** (decibels / 20));
  };
  const lead = inRoom(later(scene, 0, seconds), seed + 1, 11);
  const swapped = under(inRoom(later(scene, delayS, seconds, speed), seed + 2, 11), 2);
  return [mix(bothSpeak ? under(lead, 1) : lead, hiss(seconds, seed + 3)), mix(swapped, hiss(seconds, seed + 4))];
}
