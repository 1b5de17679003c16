import type { LagRange, SoundPeak } from './correlate-sound.ts';
import { correlateSound } from './correlate-sound.ts';
import { onsetLag } from './onsets.ts';
import { cutOut, loudness, SOUND_RATE } from './signal.ts';
import type { SyncAnswer } from './sync-found.ts';
import { cannotTell } from './sync-found.ts';

/** What the sound is held against. */
export interface SoundSyncOptions {
  /** Frames a second of both passes, as an exact fraction. */
  readonly rate: { readonly num: number; readonly den: number };
  /** Lags up to so far from `expectedOffset` are tried, seconds. Default: all at which the passes overlap for a second. */
  readonly windowS?: number;
  /** Where the middle of the window lies, frames: what timecode says. Default 0. */
  readonly expectedOffset?: number;
}

/** Quieter than this the track is silence or hiss: -80 dB of full scale. */
const SILENCE = 1e-4;
const LEAST_S = 2;
/** Longer sounds are cut: the first minutes hold the sync, and memory is not endless. */
const LONGEST_S = 180;
/** Accepted outright; accepted when the onsets agree; how far it must stand above all lags. Measured on synthesised takes. */
const [CLEAR, LIKELY, ABOVE_ALL] = [2.5, 1.5, 10];
/** Drift of the recorders' clocks is measured between windows of this length at both ends. */
const DRIFT_WINDOW_S = 10;
const MOST_DRIFT_FRAMES = 0.25;
/** Clocks do not drift more; a greater difference is a chance hit. Parts per million. */
const MOST_PPM = 5000;

/**
 * The offset at which two guide tracks carry the same sound: playback, a clap, a voice off. One channel each, 8000 samples a
 * second, both from the first frame of their clip. Two performances of one line do not correlate, and then it says so.
 */
export function syncBySound(lead: Float32Array, swapped: Float32Array, options: SoundSyncOptions): SyncAnswer {
  const [first, second] = [lead.subarray(0, LONGEST_S * SOUND_RATE), swapped.subarray(0, LONGEST_S * SOUND_RATE)];
  if (Math.min(first.length, second.length) < LEAST_S * SOUND_RATE) return cannotTell(`a guide track is shorter than ${LEAST_S} s`);
  if (!(loudness(first) > SILENCE && loudness(second) > SILENCE)) return cannotTell('a guide track is silent');
  const range = lagsToTry(first, second, options);
  const peak = correlateSound(first, second, range);
  if (peak === undefined) return cannotTell('the guide tracks do not overlap within the window');
  if (peak.periodS !== undefined) return cannotTell(`the sound repeats every ${peak.periodS.toFixed(2)} s, and so does the answer: choose by timecode`);
  const framesASample = options.rate.num / options.rate.den / SOUND_RATE;
  const ppm = driftOf(first, second, peak, framesASample);
  if (ppm !== undefined) return cannotTell(`the clocks of the two recordings drift apart by about ${10 * Math.round(Math.abs(ppm) / 10)} ppm: no one offset holds throughout`);
  return judge(peak, onsetLag(first, second, range), framesASample);
}

function judge(peak: SoundPeak, onset: number | undefined, framesASample: number): SyncAnswer {
  const agrees = onset !== undefined && Math.abs(onset - peak.lag) * framesASample <= 1;
  const stands = `the best lag stands ${peak.overNext.toFixed(1)} times above the next`;
  if (peak.overAll < ABOVE_ALL || peak.overNext < LIKELY || (peak.overNext < CLEAR && !agrees)) return cannotTell(`no common sound: ${stands}`);
  const exactOffset = peak.lag * framesASample;
  const offset = Math.round(exactOffset) + 0;
  const confidence = peak.overNext < CLEAR ? 0.7 : agrees ? 0.95 : 0.9;
  return { kind: 'measured', offset, exactOffset, confidence, words: `guide sound: ${stands}${agrees ? ', and the beginnings of sounds agree' : ''}` };
}

function lagsToTry(first: Float32Array, second: Float32Array, { rate, windowS, expectedOffset = 0 }: SoundSyncOptions): LagRange {
  const least = SOUND_RATE;
  const [from, to] = [least - first.length, second.length - least];
  if (windowS === undefined) return { from, to };
  const middle = Math.round((expectedOffset * rate.den * SOUND_RATE) / rate.num);
  const reach = Math.round(windowS * SOUND_RATE);
  return { from: Math.max(from, middle - reach), to: Math.min(to, middle + reach) };
}

/** How the lag changes from the first to the last seconds, in parts per million, when that is more than a quarter frame. */
function driftOf(first: Float32Array, second: Float32Array, { lag }: SoundPeak, framesASample: number): number | undefined {
  const start = Math.max(0, -lag);
  const end = Math.min(first.length, second.length - lag);
  const length = Math.min(DRIFT_WINDOW_S * SOUND_RATE, Math.floor((end - start) / 2));
  if (length < 2 * SOUND_RATE) return undefined;
  const lagAt = (from: number): number | undefined => {
    const margin = Math.round(0.5 * SOUND_RATE);
    const peak = correlateSound(cutOut(first, from, length), cutOut(second, from + lag, length), { from: -margin, to: margin }, false);
    return peak !== undefined && peak.overNext >= LIKELY ? peak.lag : undefined;
  };
  const [atStart, atEnd] = [lagAt(start), lagAt(end - length)];
  if (atStart === undefined || atEnd === undefined) return undefined;
  const ppm = (1e6 * (atEnd - atStart)) / (end - start - length);
  return Math.abs(atEnd - atStart) * framesASample > MOST_DRIFT_FRAMES && Math.abs(ppm) <= MOST_PPM ? ppm : undefined;
}
