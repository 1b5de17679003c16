import { readdir, realpath, stat } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join, resolve } from 'node:path';
import { isWithin } from '../adapters/filesystem/media-roots.ts';
import { parseCorrections } from '../config/parse-corrections.ts';
import { parseMapping } from '../config/parse-mapping.ts';
import { parseDefaultPipeline, parsePipeline } from '../config/parse-pipeline.ts';
import { parseSensorModes } from '../config/parse-sensor-modes.ts';
import type { Config, SidecarMapping } from '../config/resolved.ts';
import { UnreachableFileError, UsageError } from '../core/material/errors.ts';
import type { ReadingProblem } from '../core/material/finding.ts';
import type { SensorMode } from '../core/optics/sensor-mode.ts';
import { layModesOver } from '../core/optics/sensor-mode.ts';
import { defaultPipelinePath, mappingsFolder, sensorModesPath } from './assets.ts';
import { readNamedText, readPlainText } from './read-text.ts';

/** What the command line may say over a pipeline file. Paths are as typed, from the current folder. */
export interface Overrides {
  readonly media?: readonly string[];
  readonly out?: string;
  readonly paper?: 'A4' | 'Letter';
  readonly sheets?: boolean;
  readonly settleSeconds?: number;
  readonly verifyHashes?: boolean;
  readonly pictures?: boolean;
  readonly cuts?: readonly string[];
  /** Single files may stand where folders do. */
  readonly filesToo?: boolean;
}

/** A configuration ready for work, and what in the corrections file could not be read (those entries are not used). */
export interface LoadedConfig {
  readonly config: Config;
  readonly problems: readonly ReadingProblem[];
}

/**
 * The default pipeline, a pipeline file laid over it when one is given, its mappings and its corrections, then the overrides.
 * @throws {UsageError} listing every problem of the file; folders and cuts that are not there among them.
 */
export async function loadConfig(pipelinePath: string | undefined, overrides: Overrides): Promise<LoadedConfig> {
  const defaults = parseDefaultPipeline(await readNamedText(defaultPipelinePath(), 'the default pipeline'));
  const written = pipelinePath === undefined ? defaults : await readPipeline(resolve(pipelinePath), pipelinePath, defaults);
  const media = (overrides.media ?? written.media).map((folder) => resolve(folder));
  const config: Config = {
    ...written,
    media,
    out: resolve(overrides.out ?? written.out),
    cuts: overrides.cuts?.map((file) => resolve(file)) ?? written.cuts,
    paper: overrides.paper ?? written.paper,
    sheets: overrides.sheets ?? written.sheets,
    settleSeconds: overrides.settleSeconds ?? written.settleSeconds,
    verifyHashes: overrides.verifyHashes ?? written.verifyHashes,
    pictures: overrides.pictures ?? written.pictures,
    mappings: await readMappings(written.mappingFiles),
    sensorModes: await readSensorModes(written.sensorModeFiles),
  };
  await assertFolders(config, overrides.filesToo === true);
  const found = await readCorrections(config);
  return { config: { ...config, corrections: found.corrections }, problems: found.problems };
}

async function readPipeline(path: string, typed: string, defaults: Config): Promise<Config> {
  const text = await readNamedText(path, 'the pipeline file');
  const folder = dirname(path);
  return parsePipeline(text, typed, defaults, (written) => (isAbsolute(written) ? written : join(folder, written)));
}

async function readMappings(more: readonly string[]): Promise<readonly SidecarMapping[]> {
  const folder = mappingsFolder();
  const own = (await readdir(folder)).filter((name) => name.endsWith('.yaml')).toSorted().map((name) => join(folder, name));
  // The production's own mappings come first: they may know a camera better.
  return Promise.all([...more, ...own].map(async (path) => parseMapping(await readNamedText(path, 'the mapping file'), path)));
}

/** gemel's sensor modes, under those of the production's own files. */
async function readSensorModes(more: readonly string[]): Promise<readonly SensorMode[]> {
  const read = async (path: string): Promise<readonly SensorMode[]> => parseSensorModes(await readNamedText(path, 'the sensor mode file'), path);
  return layModesOver((await Promise.all(more.map(read))).flat(), await read(sensorModesPath()));
}

/** The corrections file of the pipeline, or without one every `corrections.yaml` that lies at the top of a media folder or one folder below. */
async function readCorrections(config: Config): Promise<ReturnType<typeof parseCorrections>> {
  const named = config.correctionsFile;
  const read =
    named === undefined
      ? await Promise.all((await findCorrections(config.media)).map(readFoundCorrections))
      : [parseCorrections(await readNamedText(named, 'the corrections file'), basename(named))];
  return { corrections: read.flatMap((file) => file.corrections), problems: read.flatMap((file) => file.problems) };
}

/** What lies among the media may be anything: a link, a pipe, a disk image. Then it is a problem, not the end of the day. */
async function readFoundCorrections(path: string): Promise<ReturnType<typeof parseCorrections>> {
  const file = basename(path);
  try {
    return parseCorrections(await readPlainText(path), file);
  } catch (failure) {
    if (!(failure instanceof UnreachableFileError)) throw failure;
    return { corrections: [], problems: [{ code: 'unreadable-file', severity: 'warn', file, place: '', found: failure.reason, expected: 'a file of corrections', remedy: failure.remedy }] };
  }
}

async function findCorrections(media: readonly string[]): Promise<readonly string[]> {
  const found: string[] = [];
  for (const root of media) {
    const folders = [root, ...(await folderNames(root)).map((name) => join(root, name))];
    for (const folder of folders) {
      const names = await readdir(folder).catch(() => []);
      found.push(...names.filter((name) => /^corrections\.ya?ml$/i.test(name)).map((name) => join(folder, name)));
    }
  }
  return found.toSorted();
}

async function folderNames(root: string): Promise<readonly string[]> {
  const entries = await readdir(root, { withFileTypes: true }).catch(() => []);
  return entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
}

/** Media folders must be there, and what gemel writes must lie outside them: source media is never written to. */
async function assertFolders(config: Config, filesToo: boolean): Promise<void> {
  const problems: string[] = [];
  if (config.media.length === 0) problems.push(`${config.from}: names no media folder; add "media:" or give --media FOLDER`);
  for (const folder of config.media) {
    const found = await stat(folder).catch(() => undefined);
    if (found === undefined) problems.push(filesToo ? `there is no file ${folder}; check its name and the path` : `media folder ${folder} is not there; check the path, or mount the volume`);
    else if (!found.isDirectory() && !filesToo) problems.push(`${folder} is a file; give the folder it lies in`);
    if (found?.isDirectory() === true && !filesToo && (await isInside(config.out, folder))) {
      problems.push(`the output folder ${config.out} would lie inside the media folder ${folder}; gemel never writes there. Give --out FOLDER somewhere else`);
    }
  }
  for (const cut of config.cuts) {
    if ((await stat(cut).catch(() => undefined))?.isFile() !== true) problems.push(`the cut ${cut} is not there, or no file; check the path`);
  }
  if (problems.length > 0) throw new UsageError(problems);
}

/** By real paths, so that a link does not hide where the output would land; of a folder not yet made, its nearest parent counts. */
export async function isInside(path: string, folder: string): Promise<boolean> {
  return isWithin(await realPathOf(path), await realPathOf(folder));
}

async function realPathOf(path: string): Promise<string> {
  try {
    return await realpath(path);
  } catch {
    const parent = dirname(path);
    return parent === path ? path : join(await realPathOf(parent), basename(path));
  }
}
