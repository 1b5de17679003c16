import { ExiftoolTagReader } from '../adapters/exiftool/exiftool-tag-reader.ts';
import type { LocatedProgram, ProgramName } from '../adapters/ffmpeg/locate-program.ts';
import { locateProgram } from '../adapters/ffmpeg/locate-program.ts';
import { toolVersions } from '../adapters/ffmpeg/tool-versions.ts';
import { gemelVersion } from './assets.ts';

/** The outside program gemel will use, by GEMEL_FFMPEG or GEMEL_FFPROBE, else PATH, else what npm installed. */
export async function locate(name: ProgramName): Promise<LocatedProgram> {
  return locateProgram(name, { asked: process.env[`GEMEL_${name.toUpperCase()}`], searchPath: process.env['PATH'] });
}

/** One line of `gemel doctor`: a tool, what was found, and what to do when something is missing. */
export interface ToolReport {
  readonly name: string;
  readonly state: 'ready' | 'limited' | 'missing';
  readonly version?: string;
  readonly path?: string;
  readonly from?: string;
  readonly words: string;
  readonly remedy?: string;
}

const NEEDED_FOR: Readonly<Record<ProgramName, string>> = {
  ffmpeg: 'matched frames on the sheets',
  ffprobe: 'clips whose own header does not say all',
};

/** What is installed, which programs are used and what is missing. */
export async function inspectTools(signal: AbortSignal): Promise<readonly ToolReport[]> {
  const programs = await Promise.all([locate('ffmpeg'), locate('ffprobe')]);
  const versions = await toolVersions(programs, signal);
  const own: ToolReport = { name: 'gemel', state: 'ready', version: gemelVersion(), words: `on ${runtimeWords()}` };
  return [own, ...versions.map(programReport), await exiftoolReport()];
}

function programReport(found: Awaited<ReturnType<typeof toolVersions>>[number]): ToolReport {
  const name: ProgramName = found.name === 'ffprobe' ? 'ffprobe' : 'ffmpeg';
  const place = { ...(found.version === undefined ? {} : { version: found.version }), ...(found.path === undefined ? {} : { path: found.path }), ...(found.from === undefined ? {} : { from: found.from }) };
  const remedy = `install ffmpeg 5.1 or newer, or set GEMEL_${name.toUpperCase()} to its path`;
  if (found.fault !== undefined) return { name, state: 'missing', ...place, words: `${found.fault}; needed for ${NEEDED_FOR[name]}`, remedy };
  if (found.lacks.length > 0) return { name, state: 'limited', ...place, words: `cannot decode ${found.lacks.join(', ')}; needed for ${NEEDED_FOR[name]}`, remedy };
  return { name, state: 'ready', ...place, words: NEEDED_FOR[name] };
}

async function exiftoolReport(): Promise<ToolReport> {
  const words = 'camera and lens data that makers write in ways of their own';
  const reader = new ExiftoolTagReader();
  try {
    return { name: 'exiftool', state: 'ready', version: await reader.version(), from: 'npm package exiftool-vendored', words };
  } catch (problem) {
    const reason = problem instanceof Error ? problem.message : String(problem);
    return { name: 'exiftool', state: 'missing', words: `${reason}; needed for ${words}`, remedy: 'ExifTool needs Perl: install it (on Windows it comes along)' };
  } finally {
    await reader.close();
  }
}

function runtimeWords(): string {
  const deno = 'deno' in process.versions ? process.versions['deno'] : undefined;
  return `${deno === undefined ? `Node ${process.versions.node}` : `Deno ${String(deno)}`}, ${process.platform} ${process.arch}`;
}
