import { execFile, execFileSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { exiftool } from 'exiftool-vendored';
import { loadConfig } from '../src/pipeline/load-config.ts';
import { readMedia } from '../src/pipeline/read-media.ts';
import { locate } from '../src/pipeline/tools.ts';

const SAMPLES = ['A014_K3QX/A014C002_261124_K3QX.mov', 'A014_K3QX/A014C004_261124_K3QX.mov', 'A015_M8TR/A015C001_261124_M8TR.mxf', 'C003_R9BE/C003C003_261124_R9BE.mp4'];

export interface ReadFigures {
  readonly clips: number;
  /** The header says all: own readers only, per clip. */
  readonly headerMs: number;
  /** Half of the clips carry XMP that only ExifTool reads, per clip, its start included. */
  readonly recordMs: number;
  readonly ffprobeMs: number;
  readonly mediainfoMs: number | undefined;
}

/** Reads many clips with gemel, then asks ffprobe for each in a process of its own, and mediainfo once for all where it is installed. Milliseconds a clip, medians of `runs`. */
export async function benchRead(clips: number, runs = 3): Promise<ReadFigures> {
  const folder = mkdtempSync(join(tmpdir(), 'gemel-bench-'));
  try {
    fill(join(folder, 'plain'), clips);
    const rich = fill(join(folder, 'rich'), clips);
    await addLensData(rich.filter((path, index) => index % 2 === 0 && !path.endsWith('.mxf')));
    const perClip = async (work: () => Promise<unknown>): Promise<number> => (await median(runs, work)) / clips;
    return {
      clips,
      headerMs: await perClip(() => read(join(folder, 'plain'))),
      recordMs: await perClip(() => read(join(folder, 'rich'))),
      ffprobeMs: await perClip(() => probeEach(rich)),
      mediainfoMs: hasMediainfo() ? await perClip(() => promisify(execFile)('mediainfo', ['--Output=JSON', ...rich], { maxBuffer: 1 << 28 })) : undefined,
    };
  } finally {
    await exiftool.end();
    rmSync(folder, { recursive: true, force: true });
  }
}

function fill(folder: string, clips: number): readonly string[] {
  const media = join(dirname(fileURLToPath(import.meta.url)), '..', 'sample-media', 'day-04');
  mkdirSync(folder, { recursive: true });
  return Array.from({ length: clips }, (_, index) => {
    const sample = SAMPLES[index % SAMPLES.length] ?? '';
    const path = join(folder, `A${String(20 + Math.floor(index / 40)).padStart(3, '0')}C${String(index % 40 + 1).padStart(3, '0')}_261124_BN${index % 10}H${sample.slice(sample.lastIndexOf('.'))}`);
    copyFileSync(join(media, sample), path);
    return path;
  });
}

async function addLensData(paths: readonly string[]): Promise<void> {
  await Promise.all(paths.map((path) => exiftool.write(path, { 'XMP-aux:Lens': 'Calder Prime 25', 'XMP-exif:FocalLength': 25, 'XMP-exif:FNumber': 2.8 } as never, { writeArgs: ['-overwrite_original'] })));
}

async function read(folder: string): Promise<void> {
  const { config } = await loadConfig(undefined, { media: [folder], settleSeconds: 0, out: join(tmpdir(), 'gemel-bench-out') });
  const warnings: string[] = [];
  await readMedia(config, { progress: { start() {}, advance() {}, done() {} }, signal: new AbortController().signal, warnings });
  if (warnings.length > 0) throw new Error(warnings.join('\n'));
}

async function probeEach(paths: readonly string[]): Promise<void> {
  const ffprobe = await locate('ffprobe');
  if (ffprobe.kind === 'missing') throw new Error('no ffprobe to compare with');
  const waiting = [...paths];
  const worker = async (): Promise<void> => {
    for (let path = waiting.pop(); path !== undefined; path = waiting.pop()) {
      await promisify(execFile)(ffprobe.path, ['-v', 'error', '-print_format', 'json', '-show_format', '-show_streams', path]);
    }
  };
  await Promise.all([worker(), worker()]);
}

function hasMediainfo(): boolean {
  try {
    execFileSync('mediainfo', ['--Version'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}

async function median(runs: number, work: () => Promise<unknown>): Promise<number> {
  const times: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    const start = performance.now();
    await work();
    times.push(performance.now() - start);
  }
  return times.toSorted((a, b) => a - b)[Math.floor(runs / 2)] ?? Number.NaN;
}
