import { constants } from 'node:fs';
import { access, stat } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { delimiter, isAbsolute, join, resolve } from 'node:path';

export type ProgramName = 'ffmpeg' | 'ffprobe';

/** Where a program was found, or every place it was looked for and what was wrong there. */
export type LocatedProgram =
  | { readonly kind: 'found'; readonly name: ProgramName; readonly path: string; readonly from: string }
  | { readonly kind: 'missing'; readonly name: ProgramName; readonly tried: readonly string[] };

/** Where to look. Given in by whoever reads the environment: `asked` is GEMEL_FFMPEG or GEMEL_FFPROBE, `searchPath` PATH. */
export interface ProgramSearch {
  readonly asked: string | undefined;
  readonly searchPath: string | undefined;
}

/** The program to run: the one asked for and no other, else the first on PATH, else the one an npm package brought along. */
export async function locateProgram(name: ProgramName, { asked, searchPath }: ProgramSearch): Promise<LocatedProgram> {
  if (asked !== undefined && asked !== '') {
    const path = resolve(asked);
    const fault = await faultOf(path);
    const variable = `GEMEL_${name.toUpperCase()}`;
    return fault === undefined ? { kind: 'found', name, path, from: variable } : { kind: 'missing', name, tried: [`${variable}: ${path} ${fault}`] };
  }
  const tried: string[] = [];
  for (const path of pathCandidates(name, searchPath)) {
    const fault = await faultOf(path);
    if (fault === undefined) return { kind: 'found', name, path, from: 'PATH' };
    if (fault !== NOT_THERE) tried.push(`${path} ${fault}`);
  }
  if (tried.length === 0) tried.push('PATH: not there');
  const packaged = packagedPath(name);
  if (packaged === undefined) return { kind: 'missing', name, tried: [...tried, `npm package @${name}-installer/${name}: not installed`] };
  const fault = await faultOf(packaged);
  if (fault === undefined) return { kind: 'found', name, path: packaged, from: `npm package @${name}-installer/${name}` };
  return { kind: 'missing', name, tried: [...tried, `${packaged} ${fault}`] };
}

const NOT_THERE = 'is not there';

async function faultOf(path: string): Promise<string | undefined> {
  try {
    if (!(await stat(path)).isFile()) return 'is not a file';
  } catch {
    return NOT_THERE;
  }
  return access(path, constants.X_OK).then(
    () => undefined,
    () => 'may not be run: its package was installed without its install script, or for another user (chmod a+rx mends it)',
  );
}

function pathCandidates(name: ProgramName, searchPath: string | undefined): readonly string[] {
  const folders = (searchPath ?? '').split(delimiter).filter((folder) => isAbsolute(folder));
  const files = process.platform === 'win32' ? [`${name}.exe`] : [name];
  return folders.flatMap((folder) => files.map((file) => join(folder, file)));
}

function packagedPath(name: ProgramName): string | undefined {
  try {
    const answer: unknown = createRequire(import.meta.url)(`@${name}-installer/${name}`);
    return typeof answer === 'object' && answer !== null && 'path' in answer && typeof answer.path === 'string' ? answer.path : undefined;
  } catch {
    // Both packages are optional and throw where they have no build for the machine.
    return undefined;
  }
}
