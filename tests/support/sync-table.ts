/** `node tests/support/sync-table.ts`: many synthesised takes, each synced by sound, as rows of the table in docs/picture.md. */
import { syncBySound } from '../../src/core/picture/sync/sync-by-sound.ts';
import { bursts, hiss, hum, mix, playback, speech } from '../core/picture/sync/make-sound.ts';

type Take = readonly [lead: Float32Array, swapped: Float32Array];

const SEEDS = Array.from({ length: 10 }, (_, i) => 3001 + 17 * i);
const DELAY_S = 0.735;
const RIGHT = 18;
const beeps = (first: number): readonly number[] => Array.from({ length: 20 }, (_, i) => i + first);
const shot = (decibels: number, more: { readonly seconds?: number; readonly bothSpeak?: boolean; readonly speed?: number } = {}) => (seed: number): Take => playback({ seed, decibels, delayS: DELAY_S, ...more });
const withHum = ([lead, swapped]: Take): Take => [mix(lead, hum(20, 100, 0.1)), mix(swapped, hum(20, 100, 0.1))];

/** What is tried, and whether an answer is due. */
const CASES: readonly (readonly [name: string, due: boolean, make: (seed: number) => Take])[] = [
  ['playback alone', true, shot(Infinity)],
  ['playback 6 dB under new speech', true, shot(-6)],
  ['playback 12 dB under', true, shot(-12)],
  ['playback 20 dB under', true, shot(-20)],
  ['playback 6 dB under new speech in both', true, shot(-6, { bothSpeak: true })],
  ['6 dB under, mains hum in both', true, (seed) => withHum(shot(-6)(seed))],
  ['nothing common', false, (seed) => [speech(20, seed), speech(20, seed + 9000)]],
  ['hum alone is common', false, (seed) => withHum([speech(20, seed), speech(20, seed + 9000)])],
  ['beeps a second apart', false, (seed) => [mix(bursts(20, beeps(0.2), 'beep'), hiss(20, seed)), mix(bursts(20, beeps(0.2 + DELAY_S), 'beep'), hiss(20, seed + 1))]],
  ['one clap under speech', true, (seed) => [mix(bursts(20, [3], 'clap', seed), speech(20, seed)), mix(bursts(20, [3 + DELAY_S], 'clap', seed + 1), speech(20, seed + 9000))]],
  ['clocks 1000 ppm apart', false, shot(-6, { speed: 1.001, seconds: 40 })],
];

process.stdout.write('| guide sound, 20 s | cases | right | cannot tell | wrong |\n| --- | --- | --- | --- | --- |\n');
for (const [name, due, make] of CASES) {
  const answers = SEEDS.map((seed) => syncBySound(...make(seed), { rate: { num: 24, den: 1 }, windowS: 4 }));
  const told = answers.flatMap((answer) => (answer.kind === 'measured' ? [answer.offset] : []));
  const right = due ? told.filter((offset) => offset === RIGHT).length : answers.length - told.length;
  const wrong = due ? told.length - right : told.length;
  process.stdout.write(`| ${name} | ${answers.length} | ${right}${due ? '' : ' (refused)'} | ${answers.length - told.length} | ${wrong} |\n`);
}
