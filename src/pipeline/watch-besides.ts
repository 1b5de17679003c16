import { stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { DiskStore } from '../adapters/filesystem/disk-store.ts';
import { mediaRoots } from '../adapters/filesystem/media-roots.ts';
import type { Config } from '../config/resolved.ts';
import { textDigest } from '../formats/catalogue/digest.ts';
import type { Clock, MediaListing } from '../ports.ts';
import { gemelVersion } from './assets.ts';

/** What a day is made from besides its media, as one word: the pipeline and the files it names, by size and time of change, proxies that have come to rest, and gemel's own version. */
export async function besidesOf(config: Config, clock: Clock, signal: AbortSignal): Promise<string> {
  const named = [config.from, config.correctionsFile, config.shotList, ...config.cuts, config.sheetTemplate, ...config.mappingFiles, ...config.sensorModeFiles].filter((file) => file !== undefined);
  const facts = await Promise.all(named.map(async (file) => stat(resolve(file)).then(({ size, mtimeMs }) => `${file} ${size} ${mtimeMs}`, () => `${file} absent`)));
  return textDigest([gemelVersion(), ...facts, ...(await proxiesOf(config, clock, signal))].join('\n'));
}

/** A proxy that is still being copied counts once it has not changed for the settling time. */
async function proxiesOf({ proxies, settleSeconds }: Config, clock: Clock, signal: AbortSignal): Promise<readonly string[]> {
  if (proxies.length === 0) return [];
  const { files } = await new DiskStore(proxies).list(signal);
  return files.filter(({ modifiedMs }) => clock.nowMs() - modifiedMs >= settleSeconds * 1000).map(({ file, sizeBytes, modifiedMs }) => `proxy ${file} ${sizeBytes} ${modifiedMs}`);
}

/** A media folder that is gone, or empty where clips were before, is a volume that was ejected, not a day that was deleted. */
export async function awayWords({ media }: Config, { files }: MediaListing, judgedRoots: readonly string[]): Promise<string | undefined> {
  for (const folder of media) {
    if ((await stat(folder).catch(() => undefined)) === undefined) return `${folder} is not there: the results stay as they are until it is back`;
  }
  const empty = (await mediaRoots(media)).find(({ prefix }) => judgedRoots.includes(prefix) && !files.some(({ file }) => file.startsWith(prefix)));
  return empty === undefined ? undefined : `${empty.path} holds no file any more: if its volume was ejected, the results stay as they are until it is back`;
}
