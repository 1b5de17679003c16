import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { InventedCard } from './invented-card.ts';
import { WatchProcess } from './watch-process.ts';

const SETTLE_S = 1;

/** A second run over a day that did not change. Best and median of the clock; processor time until it is at rest. */
export interface RestartFigures {
  readonly clips: number;
  readonly bestMs: number;
  readonly medianMs: number;
  readonly cpuMs: number;
  readonly hadChildren: boolean;
  /** The runtime with nothing to do, and `find` over the same tree; best of 5 each. */
  readonly emptyMs: number;
  readonly findMs: number;
}

/** From the last byte of a clip to the board that shows it, the settling time taken off. */
export interface LatencyFigures {
  readonly clips: number;
  readonly bestMs: number;
  readonly medianMs: number;
}

/** Resident memory while files land, and when all is at rest, in MB. */
export interface SoakFigures {
  readonly files: number;
  readonly restMb: number;
  readonly peakMb: number;
  readonly curve: readonly number[];
}

/** A folder with a pipeline and so many clips; removed by whoever asked. */
function makeDay(clips: number, card: InventedCard): string {
  const folder = mkdtempSync(join(tmpdir(), 'gemel-bench-watch-'));
  mkdirSync(join(folder, 'media'));
  card.fill(join(folder, 'media'), 0, clips);
  writeFileSync(join(folder, 'media', 'log.csv'), card.log(clips + 8));
  writeFileSync(join(folder, 'show.yaml'), `show: Saltmarsh Row\nmedia: [media]\nout: out\nsettle_seconds: ${SETTLE_S}\nsheets: false\n`);
  return folder;
}

/** Fills a catalogue, then starts the watch again and again; then, when asked to, lets single clips land beside the others. */
export async function benchRestart(withLatency: boolean, clips = 10_000, runs = 5): Promise<{ readonly restart: RestartFigures; readonly latency: LatencyFigures | undefined }> {
  const card = new InventedCard();
  const folder = makeDay(clips, card);
  try {
    await watching(folder, async (watch) => void (await watch.rest(clips + 1)));
    const starts: { ms: number; cpuMs: number; hadChildren: boolean }[] = [];
    for (let run = 0; run < runs; run += 1) {
      await watching(folder, async (watch) => {
        await watch.line((text) => text.startsWith(`watching ${clips + 1} files | clear`));
        const cpuMs = watch.cpuS() * 1000;
        const ms = await watch.rest(clips + 1);
        starts.push({ ms, cpuMs, hadChildren: watch.hadChildren() });
      });
    }
    const { best, median } = spread(starts.map(({ ms }) => ms));
    const restart = { clips, bestMs: best, medianMs: median, cpuMs: spread(starts.map(({ cpuMs }) => cpuMs)).best, hadChildren: starts.some(({ hadChildren }) => hadChildren), ...references(join(folder, 'media')) };
    return { restart, latency: withLatency ? await latencyIn(folder, clips, card) : undefined };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Lets clips land in a watched day, one at a time. */
export async function benchLatency(clips = 200): Promise<LatencyFigures> {
  const card = new InventedCard();
  const folder = makeDay(clips, card);
  try {
    await watching(folder, async (watch) => void (await watch.rest(clips + 1)));
    return await latencyIn(folder, clips, card);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function latencyIn(folder: string, clips: number, card: InventedCard, runs = 5): Promise<LatencyFigures> {
  const times: number[] = [];
  await watching(folder, async (watch) => {
    await watch.rest(clips + 1);
    for (let run = 0; run < runs; run += 1) {
      const name = card.name(clips + run);
      const bytes = card.bytes(clips + run);
      const path = join(folder, 'media', name);
      writeFileSync(path, bytes.subarray(0, 4000));
      await pause(400);
      writeFileSync(path, bytes);
      const began = performance.now();
      const before = statSync(join(folder, 'out', 'board.html')).mtimeMs;
      while (!boardShows(folder, name, before)) await pause(10);
      times.push(performance.now() - began - SETTLE_S * 1000);
      await watch.rest(clips + 2 + run);
    }
  });
  const { best, median } = spread(times);
  return { clips, bestMs: best, medianMs: median };
}

function boardShows(folder: string, name: string, beforeMs: number): boolean {
  const path = join(folder, 'out', 'board.html');
  // The name without its ending is what a board shows of a clip.
  return statSync(path).mtimeMs !== beforeMs && readFileSync(path, 'utf8').includes(name.slice(0, -4));
}

/** Lets many files land, folder by folder, in a watched day: a clip of every ten files, the others pictures of sequences. */
export async function benchSoak(files = 20_000, rounds = 20): Promise<SoakFigures> {
  const card = new InventedCard();
  const folder = makeDay(8, card);
  try {
    const curve: number[] = [];
    let restMb = Number.NaN;
    let peakMb = 0;
    await watching(folder, async (watch) => {
      await watch.rest(9);
      const sampling = setInterval(() => (peakMb = Math.max(peakMb, watch.residentMb())), 200);
      const picture = readFileSync(new URL('../sample-media/day-04/A014_K3QX/A014C005_261124_K3QX.mov', import.meta.url)).subarray(0, 2048);
      for (let round = 0; round < rounds; round += 1) {
        land(folder, card, { round, files: files / rounds, picture });
        await pause(1000);
        curve.push(Math.round(watch.residentMb()));
      }
      await watch.rest(9 + files, 8000);
      clearInterval(sampling);
      restMb = watch.residentMb();
    });
    return { files, restMb, peakMb, curve };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A folder is written under another name and then takes its own, as some copy programs do; every other lands file by file. */
function land(folder: string, card: InventedCard, { round, files, picture }: { readonly round: number; readonly files: number; readonly picture: Uint8Array }): void {
  const name = join(folder, 'media', `S${String(round).padStart(3, '0')}`);
  const building = round % 2 === 0 ? `${name}.landing` : name;
  mkdirSync(building);
  const clips = Math.floor(files / 10);
  for (let number = 0; number < clips; number += 1) writeFileSync(join(building, card.name(1000 + round * clips + number)), card.bytes(1000 + round * clips + number));
  for (let number = 0; number < files - clips; number += 1) writeFileSync(join(building, `plate.${1001 + number}.dpx`), picture);
  if (building !== name) renameSync(building, name);
}

async function watching(folder: string, work: (watch: WatchProcess) => Promise<void>): Promise<void> {
  const watch = new WatchProcess(folder);
  try {
    await work(watch);
  } finally {
    await watch.stop();
  }
}

/** The same clock for what a start costs at least: the runtime with nothing to do, and `find` naming size and time of every file. */
function references(media: string): { readonly emptyMs: number; readonly findMs: number } {
  const bestOf = (work: () => void): number =>
    spread(
      Array.from({ length: 5 }, () => {
        const start = performance.now();
        work();
        return performance.now() - start;
      }),
    ).best;
  return {
    emptyMs: bestOf(() => execFileSync(process.execPath, ['-e', '0'])),
    findMs: bestOf(() => execFileSync('find', [media, '-type', 'f', '-printf', '%s %T@ %p\\n'], { maxBuffer: 1 << 28 })),
  };
}

function spread(times: readonly number[]): { readonly best: number; readonly median: number } {
  const sorted = times.toSorted((a, b) => a - b);
  return { best: sorted[0] ?? Number.NaN, median: sorted[Math.floor(sorted.length / 2)] ?? Number.NaN };
}
