import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { FfmpegPuller } from '../src/adapters/ffmpeg/pull-frames.ts';
import { pictureFiles, pullFilters } from '../src/adapters/ffmpeg/plan-pull.ts';
import { inspectPicture } from '../src/adapters/ffmpeg/inspect-picture.ts';
import { PackageFolder } from '../src/adapters/filesystem/package-folder.ts';
import { frameRate } from '../src/core/timecode/rate.ts';
import { formatTimecode } from '../src/core/timecode/timecode.ts';
import { PULL_FORMATS } from '../src/formats/media/pull-format.ts';
import type { PullFormat } from '../src/formats/media/pull-format.ts';
import type { PictureStamp } from '../src/formats/media/stamp-dpx.ts';
import { stampDpx } from '../src/formats/media/stamp-dpx.ts';
import { stampExr } from '../src/formats/media/stamp-exr.ts';
import { burnInFont } from '../src/pipeline/assets.ts';
import { quickSum } from '../src/pipeline/quick-sum.ts';
import { locate } from '../src/pipeline/tools.ts';

const MAIN = join(dirname(fileURLToPath(import.meta.url)), '..', 'src', 'cli', 'main.ts');

/** What packaging and pulling cost; a ratio above 1 is faster than bare FFmpeg writing the same sequence by the same filters. */
export interface TurnoverFigures {
  readonly shots: number;
  readonly packageS: number;
  readonly receiveS: number;
  readonly pulls: readonly { readonly format: PullFormat; readonly framesPerS: number; readonly bareFramesPerS: number; readonly ratio: number }[];
  readonly peakMb: number;
}

/** Packages 100 shots of 34 set-ups without frames, then pulls frames of a picture of 1920 × 1080, by turns with bare FFmpeg. */
export async function benchTurnover(): Promise<TurnoverFigures> {
  const folder = mkdtempSync(join(tmpdir(), 'gemel-bench-'));
  try {
    const [ffmpeg, ffprobe] = await Promise.all([programPath('ffmpeg'), programPath('ffprobe')]);
    const shots = inventMedia(folder, ffmpeg);
    const packageS = seconds(() => run(['turnover', 'show.yaml', '--out', 'vendor/t1'], folder));
    const receiveS = seconds(() => run(['receive', 'vendor/t1'], folder));
    const pulls: TurnoverFigures['pulls'][number][] = [];
    for (const format of PULL_FORMATS) pulls.push(await comparePull(folder, format, ffmpeg, ffprobe));
    return { shots, packageS, receiveS, pulls, peakMb: process.resourceUsage().maxRSS / 1024 };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const SET_UPS = 34;
const FRAMES = 240;

function inventMedia(folder: string, ffmpeg: string): number {
  const roll = join(folder, 'media', 'A003_R7QK');
  mkdirSync(roll, { recursive: true });
  const base = join(folder, 'base.mov');
  execFileSync(ffmpeg, ['-v', 'error', '-y', '-f', 'lavfi', '-i', 'testsrc2=size=320x180:rate=24', '-frames:v', String(FRAMES), '-pix_fmt', 'yuv422p', '-c:v', 'mjpeg', base]);
  const log = ['File,Slate,Take,Pass,Circled'];
  const rows = ['Shot,Slate,Take,Cut In,Cut Out'];
  const label = (frame: number): string => formatTimecode({ frame, format: { base: 24, drop: false } });
  for (let set = 0; set < SET_UPS; set++) {
    for (const [index, pass] of ['lead', 'swapped', 'clean'].entries()) {
      const clip = `A003C${String(3 * set + index + 1).padStart(3, '0')}_261125_R7QK.mov`;
      const start = (8 * 3600 + (3 * set + index) * 60) * 24;
      execFileSync(ffmpeg, ['-v', 'error', '-y', '-i', base, '-c', 'copy', '-timecode', label(start), join(roll, clip)]);
      log.push(`${clip},${set + 10}B,${index + 1},${pass},yes`);
      if (index > 0) continue;
      for (let shot = 0; shot < 3 && rows.length <= 100; shot++) rows.push(`SMR_${String(set + 10).padStart(3, '0')}_00${shot + 1}0,${set + 10}B,1,${label(start + 24 + 60 * shot)},${label(start + 72 + 60 * shot)}`);
    }
  }
  writeFileSync(join(folder, 'media', 'script-log.csv'), `${log.join('\n')}\n`);
  writeFileSync(join(folder, 'media', 'shots.csv'), `${rows.join('\n')}\n`);
  writeFileSync(join(folder, 'show.yaml'), 'show: Saltmarsh Row\nmedia: [media]\nout: out\nbase_rate: 24\nsettle_seconds: 0\nshot_list: media/shots.csv\n');
  return rows.length - 1;
}

function run(args: readonly string[], folder: string): void {
  const done = spawnSync(process.execPath, [MAIN, ...args], { cwd: folder, encoding: 'utf8' });
  if (done.status !== 0) throw new Error(`gemel ${args.join(' ')} ended with ${String(done.status)}:\n${done.stdout}${done.stderr}`);
}

const PULLED = 120;
const TURNS = 2;

async function comparePull(folder: string, format: PullFormat, ffmpeg: string, ffprobe: string): Promise<TurnoverFigures['pulls'][number]> {
  const source = join(folder, 'plate.mov');
  execFileSync(ffmpeg, ['-v', 'error', '-y', '-f', 'lavfi', '-i', 'testsrc2=size=1920x1080:rate=24', '-frames:v', String(PULLED), '-pix_fmt', 'yuv422p10le', '-c:v', 'prores_ks', source]);
  const clip = { clip: { file: 'plate.mov', kind: 'movie' as const }, path: source, rateText: '24/1' };
  const range = { start: 0, end: PULLED };
  const signal = new AbortController().signal;
  const coding = await inspectPicture(ffprobe, source, signal);
  const own: number[] = [];
  const bare: number[] = [];
  for (let turn = 0; turn < TURNS; turn++) {
    const target = join(folder, `bare-${turn}`);
    mkdirSync(target);
    const output = pictureFiles(format, { before: join(target, 'a.'), after: `.${format}`, padding: 4, firstNumber: 1 });
    const started = performance.now();
    execFileSync(ffmpeg, ['-v', 'error', '-i', source, '-vf', pullFilters(range, 0, format, coding), ...output]);
    bare.push(performance.now() - started);
    rmSync(target, { recursive: true });
    const puller = new FfmpegPuller({ ffmpeg, ffprobe, font: burnInFont() });
    const build = await PackageFolder.open(join(folder, `own-${turn}`), quickSum());
    const begun = performance.now();
    if (format === 'exr') await puller.pullExr(clip, range, async (frame, picture) => build.writeParts(`a.${1001 + frame}.exr`, stampExr(picture, stampOf(frame)), 'bench'), signal);
    else {
      const files = { before: await build.pathFor('a.'), after: `.${format}`, padding: 4, firstNumber: 1001 };
      await puller.pullFiles(clip, range, format, files, async (frame) => build.kept(`a.${1001 + frame}.${format}`, 'bench', format === 'dpx' ? (bytes) => stampDpx(bytes, stampOf(frame)) : undefined), signal);
    }
    own.push(performance.now() - begun);
    await build.release();
    rmSync(join(folder, `.own-${turn}.building`), { recursive: true });
  }
  const [ownMs, bareMs] = [Math.min(...own), Math.min(...bare)];
  return { format, framesPerS: (PULLED * 1000) / ownMs, bareFramesPerS: (PULLED * 1000) / bareMs, ratio: bareMs / ownMs };
}

function stampOf(frame: number): PictureStamp {
  return { timecode: { label: formatTimecode({ frame, format: { base: 24, drop: false } }), phase: 0 }, rate: frameRate(24), fileName: 'a', source: 'plate.mov', slate: '27B-3' };
}

function seconds(work: () => void): number {
  const start = performance.now();
  work();
  return (performance.now() - start) / 1000;
}

async function programPath(name: 'ffmpeg' | 'ffprobe'): Promise<string> {
  const found = await locate(name);
  if (found.kind === 'missing') throw new Error(`${name} is needed: ${found.tried.join('; ')}`);
  return found.path;
}
