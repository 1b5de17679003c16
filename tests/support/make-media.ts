import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { constants, copyFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, extname, join } from 'node:path';
import { afterAll, onTestFinished } from 'vitest';
import { locateProgram } from '../../src/adapters/ffmpeg/locate-program.ts';
import { keptMedia } from './kept-media.ts';

/** A fresh folder below the system's temporary one, removed when the test has finished. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'gemel-test-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** The same for media that all tests of a file share: call it in `beforeAll`. */
export function sharedFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'gemel-test-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** The program tests make media with: the one on PATH, else the one npm brought. @throws {Error} when there is none. */
export async function programPath(name: 'ffmpeg' | 'ffprobe', asked?: string): Promise<string> {
  const located = await locateProgram(name, { asked, searchPath: process.env['PATH'] });
  if (located.kind === 'missing') throw new Error(`${name} is needed: ${located.tried.join('; ')}`);
  return located.path;
}

export interface MovieToMake {
  readonly codec?: readonly string[];
  readonly frames?: number;
  readonly rate?: string;
  readonly timecode?: string;
  readonly size?: string;
  /** Pictures that carry their own number: eight bars, black or white, lowest bit left (`readFrameNumbers`). */
  readonly numbered?: boolean;
  readonly more?: readonly string[];
}

/** A small movie with a picture that changes every frame. */
export async function makeMovie(path: string, movie: MovieToMake = {}): Promise<void> {
  const { codec = ['-c:v', 'mjpeg'], frames = 24, rate = '24', timecode, size = '128x72', numbered = false, more = [] } = movie;
  const bars = `color=black:size=8x2:rate=${rate},format=gray,geq=lum='if(mod(floor(N/pow(2\\,X))\\,2)\\,235\\,16)',scale=${size.replace('x', ':')}:flags=neighbor`;
  const input = ['-f', 'lavfi', '-i', numbered ? bars : `testsrc2=size=${size}:rate=${rate}`, '-frames:v', String(frames)];
  const label = timecode === undefined ? [] : ['-timecode', timecode];
  await makeFile(path, [...input, '-pix_fmt', 'yuv422p', ...codec, ...label, ...more]);
}

/** What FFmpeg reads besides: the bytes of `pipe:0`, and raw sound as the file `SOUND`. */
export interface MadeFrom {
  readonly pictures?: Uint8Array;
  readonly sound?: Uint8Array;
}

export const SOUND = 'sound.raw';

/** What FFmpeg makes with these arguments, the one for the output aside; what was made before is copied. The ending of the name decides the container. */
export async function makeFile(path: string, args: readonly string[], { pictures = NOTHING, sound = NOTHING }: MadeFrom = {}): Promise<void> {
  const ffmpeg = await programPath('ffmpeg');
  const made = `made${extname(path)}`;
  const kept = keptMedia(ffmpeg, [made, ...args, pictures, sound], (folder) => {
    writeFileSync(join(folder, SOUND), sound);
    execFileSync(ffmpeg, ['-v', 'error', '-y', ...args, made], { cwd: folder, input: pictures, stdio: ['pipe', 'ignore', 'inherit'] });
    rmSync(join(folder, SOUND));
  });
  mkdirSync(dirname(path), { recursive: true });
  copyFileSync(join(kept, made), path, constants.COPYFILE_FICLONE);
}

const NOTHING = new Uint8Array();

/** The numbers that stills of a `numbered` movie carry. */
export async function readFrameNumbers(stills: readonly Uint8Array[]): Promise<readonly number[]> {
  const [width, height] = [128, 72];
  const args = ['-v', 'error', '-f', 'image2pipe', '-c:v', 'mjpeg', '-i', 'pipe:0', '-vf', `scale=${width}:${height}`, '-pix_fmt', 'gray', '-f', 'rawvideo', 'pipe:1'];
  // The build that npm brings has nothing to link and starts ten times sooner; any decodes these pictures.
  const npm = await locateProgram('ffmpeg', { asked: undefined, searchPath: undefined });
  const grey = execFileSync(npm.kind === 'found' ? npm.path : await programPath('ffmpeg'), args, { input: Buffer.concat(stills) });
  return stills.map((_, index) => {
    const line = (index * height + height / 2) * width;
    return [0, 1, 2, 3, 4, 5, 6, 7].reduce((number, bit) => number + ((grey[line + 16 * bit + 8] ?? 0) > 128 ? 2 ** bit : 0), 0);
  });
}

/** Numbered pictures `name.0001.ext`; the ending decides the kind. */
export async function makeSequence(folder: string, name: string, extension: 'dpx' | 'exr' | 'png' | 'tif', frames: number, first = 1001): Promise<void> {
  const ffmpeg = await programPath('ffmpeg');
  const args = ['-v', 'error', '-nostdin', '-y', '-f', 'lavfi', '-i', 'testsrc2=size=64x36:rate=24', '-frames:v', String(frames), '-start_number', String(first)];
  const kept = keptMedia(ffmpeg, [...args, extension], (made) => execFileSync(ffmpeg, [...args, join(made, `%07d.${extension}`)]));
  mkdirSync(folder, { recursive: true });
  for (const numbered of readdirSync(kept)) copyFileSync(join(kept, numbered), join(folder, `${name}.${numbered}`));
}

/** Every file below a folder with its time of change and the SHA-256 of its bytes: two of these are equal when nothing was touched. */
export function fingerprint(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .toSorted()
    .map((name) => {
      const facts = statSync(join(folder, name));
      const content = facts.isFile() ? createHash('sha256').update(readFileSync(join(folder, name))).digest('hex') : 'folder';
      return `${name} ${facts.mtimeMs} ${facts.size} ${content}`;
    });
}

/** Runs as a user without rights when the test was started as root, whom no permission stops. Files and tests of one process run one after another, so nothing else runs without rights. */
export async function withoutRootRights<T>(work: () => Promise<T>): Promise<T> {
  if (process.getuid?.() !== 0) return work();
  process.seteuid?.(65_534);
  try {
    return await work();
  } finally {
    process.seteuid?.(0);
  }
}
