import type { LocatedProgram } from './locate-program.ts';
import { runProgram } from './run-program.ts';

/** What `gemel doctor` says of one program: where it is, its version, and which of the pictures gemel meets it cannot decode. */
export interface ToolVersion {
  readonly name: string;
  readonly path?: string;
  readonly from?: string;
  readonly version?: string;
  /** Codecs it has no decoder for ("exr", "prores"); empty for ffprobe, which decodes nothing here. */
  readonly lacks: readonly string[];
  /** What is wrong, for the program that is missing or does not start. */
  readonly fault?: string;
}

const DECODERS = ['prores', 'dnxhd', 'h264', 'hevc', 'mpeg2video', 'mjpeg', 'exr', 'dpx', 'tiff', 'png'];
const LIMITS = { timeoutMs: 20_000, maxOutputBytes: 1024 * 1024 };

/** The version of each program, and what it cannot do. Runs each once or twice; a program that does not start is an answer too. */
export async function toolVersions(programs: readonly LocatedProgram[], signal: AbortSignal): Promise<readonly ToolVersion[]> {
  return Promise.all(programs.map(async (program) => toolVersion(program, signal)));
}

async function toolVersion(program: LocatedProgram, signal: AbortSignal): Promise<ToolVersion> {
  const { name } = program;
  if (program.kind === 'missing') return { name, lacks: [], fault: program.tried.join('; ') };
  const { path, from } = program;
  try {
    const { stdout, code } = await runProgram(path, ['-version'], { ...LIMITS, signal });
    const version = new RegExp(`^${name} version (\\S+)`).exec(textOf(stdout))?.[1];
    if (version === undefined) return { name, path, from, lacks: [], fault: `it does not answer as ${name} does (exit code ${code ?? 'none'})` };
    return { name, path, from, version, lacks: name === 'ffmpeg' ? await missingDecoders(path, signal) : [] };
  } catch (failure) {
    signal.throwIfAborted();
    return { name, path, from, lacks: [], fault: failure instanceof Error ? failure.message : String(failure) };
  }
}

async function missingDecoders(path: string, signal: AbortSignal): Promise<readonly string[]> {
  const { stdout } = await runProgram(path, ['-v', 'error', '-hide_banner', '-decoders'], { ...LIMITS, signal });
  const known = new Set(textOf(stdout).split('\n').map((line) => line.trim().split(/\s+/)[1]));
  return DECODERS.filter((decoder) => !known.has(decoder));
}

function textOf(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes);
}
