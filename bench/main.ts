/**
 * `npm run bench`: speed and memory, as ratios against a named reference in the same run. Names as arguments choose parts:
 * `npm run bench -- read match sheets moves picture picture-day seal turnover watch kills farm`;
 * `restart latency soak` are the parts of `watch`. Times are of this machine on this day; no test asserts them.
 */
import { benchFarm } from './farm-bench.ts';
import { farmTable } from './farm-simulation.ts';
import { killTurnover, killWatch } from './kill-bench.ts';
import { benchMatch } from './match-bench.ts';
import { benchMoves } from './move-bench.ts';
import { benchPicture } from './picture-bench.ts';
import type { PictureDay, Taken } from './picture-day-bench.ts';
import { benchPictureDay } from './picture-day-bench.ts';
import { benchRead } from './read-bench.ts';
import type { Spent } from './seal-bench.ts';
import { benchSeal } from './seal-bench.ts';
import { benchSheets } from './sheet-bench.ts';
import { benchTurnover } from './turnover-bench.ts';
import type { LatencyFigures, RestartFigures } from './watch-bench.ts';
import { benchLatency, benchRestart, benchSoak } from './watch-bench.ts';

const PARTS: Readonly<Record<string, () => Promise<void>>> = { read, match, sheets, moves, picture, 'picture-day': pictureDay, seal, turnover, watch, restart, latency, soak, kills, farm };

async function read(): Promise<void> {
  const figures = await benchRead(200);
  console.log(`\nReading ${figures.clips} clips, ms a clip`);
  console.log(`  header says all                    ${figures.headerMs.toFixed(2)}   ${ratio(figures.ffprobeMs, figures.headerMs)} one ffprobe process each`);
  console.log(`  everything, ExifTool for some      ${figures.recordMs.toFixed(2)}   ${ratio(figures.ffprobeMs, figures.recordMs)} one ffprobe process each`);
  console.log(`  one ffprobe process each, 2 at once ${figures.ffprobeMs.toFixed(2)}`);
  if (figures.mediainfoMs === undefined) console.log('  mediainfo is not installed: not compared');
  else console.log(`  one mediainfo process for all      ${figures.mediainfoMs.toFixed(2)}   everything on record takes ${(figures.recordMs / figures.mediainfoMs).toFixed(1)} times as long`);
}

function ratio(reference: number, own: number): string {
  return `${(reference / own).toFixed(1)} times faster than`;
}

async function match(): Promise<void> {
  console.log('\nGroup, match and check, ms (best of 3; the reference for growth is n log n from the row before)');
  let before: { readonly clips: number; readonly ms: number } | undefined;
  for (const row of benchMatch([1000, 10_000, 50_000])) {
    const fair = before === undefined ? undefined : (before.ms * row.clips * Math.log(row.clips)) / (before.clips * Math.log(before.clips));
    const growth = fair === undefined ? '' : `, ${(row.totalMs / fair).toFixed(2)} of n log n`;
    console.log(`  ${String(row.clips).padStart(6)} clips: ${Math.round(row.groupMs)} + ${Math.round(row.matchMs)} + ${Math.round(row.checkMs)} = ${Math.round(row.totalMs)}${growth}; peak ${Math.round(row.peakMb)} MB`);
    before = { clips: row.clips, ms: row.totalMs };
  }
}

async function sheets(): Promise<void> {
  console.log('\nSheets, rendering without decoding');
  console.log(await benchSheets());
}

async function moves(): Promise<void> {
  const { bestMs, medianMs } = benchMoves();
  console.log(`\nComparing two recorded moves of 10,000 samples: best ${bestMs.toFixed(0)} ms, median ${medianMs.toFixed(0)} ms`);
}

async function picture(): Promise<void> {
  console.log('\nMeasuring pictures at 320 x 180, ms of processor time, decoding apart');
  for (const { what, ms } of benchPicture()) console.log(`  ${what.padEnd(40)} ${ms.toFixed(1)}`);
}

async function pictureDay(): Promise<void> {
  // Decoding weighs four times as much at UHD, our own computing the same. A day of 40 sets is these, five and ten times over.
  for (const [sets, raster] of [[8, '1920x1080'], [4, '3840x2160']] as const) tellPictureDay(await benchPictureDay(sets, raster));
}

function tellPictureDay({ sets, frames, raster, withPictures, without, again, bare, peakMb }: PictureDay): void {
  const words = ({ clockS, cpuS }: Taken): string => `${clockS.toFixed(1)} / ${cpuS.toFixed(1)}`;
  const times = (own: number, ref: number): string => (own / ref).toFixed(2);
  console.log(`\nA day of ${sets} sets with pictures (${frames} frames a pass, ${raster}, ProRes), s by the clock / of all processors`);
  console.log(`  with pictures ${words(withPictures)}, without ${words(without)}, again ${words(again)}; bare decode, two at once ${words(bare)}`);
  console.log(`  looking at them takes ${times(withPictures.clockS - without.clockS, bare.clockS)} times the bare decode by the clock, ${times(withPictures.cpuS - without.cpuS, bare.cpuS)} times of processors; peak ${Math.round(peakMb)} MB`);
}

async function seal(): Promise<void> {
  const { gigabytes, files, rows, pairs, peakSmallMb, peakLargeMb } = await benchSeal();
  console.log(`\nSealing ${gigabytes} GB in ${files} files, page cache warm, best of 3: ms by the clock / of all processors`);
  const words = ({ ms, cpuMs }: Spent): string => `${Math.round(ms)} / ${Math.round(cpuMs)}`;
  const shares = (own: Spent, other: Spent): string => `${(own.ms / other.ms).toFixed(2)} / ${(own.cpuMs / other.cpuMs).toFixed(2)}`;
  for (const { format, seal: own, wasm, theirs, outside } of rows) {
    console.log(`  ${format.padEnd(6)} ${words(own)}: ${theirs === undefined ? `${outside} is not installed: not compared` : `${shares(own, theirs)} of ${outside} (${words(theirs)})`}`);
    if (wasm !== undefined && theirs !== undefined) console.log(`         ${words(wasm)}: ${shares(wasm, theirs)} without native code`);
  }
  for (const { formats, onePass, twoPasses } of pairs) console.log(`  ${formats.join(' and ')} in one pass ${words(onePass)}: ${shares(onePass, twoPasses)} of two passes (${words(twoPasses)})`);
  console.log(`  peak of the whole process ${Math.round(peakSmallMb)} MB after files of 64 MB, ${Math.round(peakLargeMb)} MB after one of 1 GB`);
}

async function turnover(): Promise<void> {
  const figures = await benchTurnover();
  console.log(`\nPackaging ${figures.shots} shots without frames: ${figures.packageS.toFixed(1)} s; receiving them: ${figures.receiveS.toFixed(1)} s`);
  console.log('Pulling 1920 × 1080 frames of ProRes, headers stamped and noted, against bare FFmpeg by the same filters (120 frames, best of 2, by turns)');
  for (const { format, framesPerS, bareFramesPerS, ratio: of } of figures.pulls) console.log(`  ${format.padEnd(4)} ${framesPerS.toFixed(1)} frames a second, bare ${bareFramesPerS.toFixed(1)}: ${of.toFixed(2)} of its speed`);
  console.log(`  peak ${Math.round(figures.peakMb)} MB`);
}

async function restart(): Promise<void> {
  tellRestart((await benchRestart(false)).restart);
}

async function latency(): Promise<void> {
  tellLatency(await benchLatency());
}

async function soak(): Promise<void> {
  const { files, curve, peakMb, restMb } = await benchSoak();
  console.log(`\n${files} files landing: resident ${curve.join(', ')} MB; peak ${Math.round(peakMb)} MB, at rest ${Math.round(restMb)} MB`);
}

async function watch(): Promise<void> {
  const { restart: figures, latency: beside } = await benchRestart(true);
  tellRestart(figures);
  if (beside !== undefined) tellLatency(beside);
  await latency();
  await soak();
}

function tellLatency({ clips, bestMs, medianMs }: LatencyFigures): void {
  console.log(`\nFrom the last byte of a clip to the board, beside ${clips} clips, settling taken off: best ${Math.round(bestMs)} ms, median ${Math.round(medianMs)} ms`);
}

function tellRestart(restart: RestartFigures): void {
  console.log(`\nWatching: a second start over ${restart.clips} unchanged clips, until it is at rest`);
  console.log(`  best ${Math.round(restart.bestMs)} ms, median ${Math.round(restart.medianMs)} ms, ${Math.round(restart.cpuMs)} ms of processor time; child processes: ${restart.hadChildren ? 'some' : 'none'}`);
  console.log(`  ${(restart.bestMs / restart.emptyMs).toFixed(1)} starts of the bare runtime (${Math.round(restart.emptyMs)} ms), ${(restart.bestMs / restart.findMs).toFixed(1)} runs of find over the same files (${Math.round(restart.findMs)} ms)`);
}

async function kills(): Promise<void> {
  for (const [what, killed] of [['a watch', await killWatch(100)], ['a turnover', await killTurnover(100)]] as const) {
    console.log(`\n${what} killed ${killed.kills} times, ${killed.atWork} of them at work: ${killed.faults.length === 0 ? 'nothing lost, nothing half' : killed.faults.join('; ')}`);
  }
}

async function farm(): Promise<void> {
  const { jobMs, oneWorkerS, fourWorkersS, queue } = await benchFarm();
  console.log(`\nA farm: 4 workers are ${(oneWorkerS / fourWorkersS).toFixed(2)} times as fast as 1 on jobs that wait ${jobMs} ms (${fourWorkersS.toFixed(1)} s against ${oneWorkerS.toFixed(1)} s)`);
  for (const { workers, jobsPerS } of queue) console.log(`  ${workers} workers take ${Math.round(jobsPerS)} jobs a second that do nothing`);
  console.log(`${farmTable()}`);
}

const asked = process.argv.slice(2);
for (const name of asked.length === 0 ? Object.keys(PARTS) : asked) {
  const part = PARTS[name];
  if (part === undefined) throw new Error(`no part "${name}"; there are ${Object.keys(PARTS).join(', ')}`);
  await part();
}
