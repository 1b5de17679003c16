import { spawn } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { programPath } from '../tests/support/make-media.ts';
import { makeSceneMovie } from '../tests/support/make-scene-movie.ts';
import { repository } from '../tests/support/run-gemel.ts';
import { makeScene } from '../tests/support/scene.ts';

/** Seconds by the clock, and of all processors together, programs that were started among them. */
export interface Taken {
  readonly clockS: number;
  readonly cpuS: number;
}

/** What a day with pictures took, and the most memory of gemel itself, MB. */
export interface PictureDay {
  readonly sets: number;
  readonly frames: number;
  readonly raster: string;
  readonly withPictures: Taken;
  readonly without: Taken;
  readonly again: Taken;
  readonly bare: Taken;
  readonly peakMb: number;
}

const FRAMES = 240;

/** A day of like sets, judged with pictures, without, and again; against ffmpeg decoding the same clips to nothing, two at once. */
export async function benchPictureDay(sets: number, raster: string): Promise<PictureDay> {
  const folder = mkdtempSync(join(tmpdir(), 'gemel-bench-'));
  try {
    const media = join(folder, 'media');
    await shoot(media, sets, raster);
    const without = await gemelTakes(media, join(folder, 'without'), ['--no-picture']);
    const withPictures = await gemelTakes(media, join(folder, 'with'), []);
    const again = await gemelTakes(media, join(folder, 'with'), []);
    return { sets, frames: FRAMES, raster, withPictures, without, again, bare: await bareTakes(media), peakMb: withPictures.peakMb };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function shoot(media: string, sets: number, size: string): Promise<void> {
  mkdirSync(media, { recursive: true });
  const scene = makeScene({
    frames: FRAMES, noise: 1, clean: { frames: 24 },
    lead: { figures: [{ x: 85, height: 105, tone: 35, stride: 24 }, { x: 235, height: 105, tone: 215, stride: 31 }] },
    swapped: { camera: { dx: 0.3 }, figures: [{ x: 85, height: 105, tone: 215, stride: 27 }, { x: 235, height: 105, tone: 35, stride: 22 }] },
  });
  const rows = ['file,slate,take,pass'];
  for (const pass of ['lead', 'swapped', 'clean'] as const) await makeSceneMovie(join(media, `${pass}.mov`), scene[pass], { size });
  for (let set = 1; set <= sets; set++) {
    for (const pass of ['lead', 'swapped', 'clean'] as const) {
      const name = `S${String(set).padStart(3, '0')}-${pass}.mov`;
      copyFileSync(join(media, `${pass}.mov`), join(media, name));
      // A byte more after the movie makes it another clip, as each card's is.
      writeFileSync(join(media, name), Buffer.from([0, 0, 0, 12, 0x66, 0x72, 0x65, 0x65, set >> 8, set & 255, 0, pass.length]), { flag: 'a' });
      rows.push(`${name},${set},1,${pass}`);
    }
  }
  for (const pass of ['lead', 'swapped', 'clean']) rmSync(join(media, `${pass}.mov`));
  writeFileSync(join(media, 'report.csv'), `${rows.join('\n')}\n`);
}

async function gemelTakes(media: string, out: string, more: readonly string[]): Promise<Taken & { readonly peakMb: number }> {
  return takes([process.execPath, join(repository, 'bin', 'gemel.mjs'), 'check', media, '--out', out, '--settle', '0', '--no-sheets', ...more]);
}

async function bareTakes(media: string): Promise<Taken> {
  const ffmpeg = await programPath('ffmpeg');
  const queue = readdirSync(media).filter((name) => name.endsWith('.mov')).toSorted();
  const started = performance.now();
  let cpuS = 0;
  const next = async (): Promise<void> => {
    for (let name = queue.shift(); name !== undefined; name = queue.shift()) {
      // Taken before it is added: what stands on the left would be read before the wait.
      const taken = await takes([ffmpeg, '-v', 'error', '-nostdin', '-i', join(media, name), '-f', 'null', '-']);
      cpuS += taken.cpuS;
    }
  };
  await Promise.all([next(), next()]);
  return { clockS: (performance.now() - started) / 1000, cpuS };
}

/** What a program takes, by GNU time, which counts the programs it starts as well. */
async function takes(command: readonly string[]): Promise<Taken & { readonly peakMb: number }> {
  const started = performance.now();
  const said = await run('/usr/bin/time', ['-v', ...command]);
  const figure = (pattern: RegExp): number => Number(pattern.exec(said)?.[1] ?? Number.NaN);
  return {
    clockS: (performance.now() - started) / 1000,
    cpuS: figure(/User time \(seconds\): ([\d.]+)/) + figure(/System time \(seconds\): ([\d.]+)/),
    peakMb: figure(/Maximum resident set size \(kbytes\): (\d+)/) / 1024,
  };
}

async function run(program: string, args: readonly string[]): Promise<string> {
  const child = spawn(program, [...args], { stdio: ['ignore', 'ignore', 'pipe'] });
  let said = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => { said += text; });
  await new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('close', resolve);
  });
  return said;
}
