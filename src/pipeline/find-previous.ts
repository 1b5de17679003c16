import { readdir } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { UsageError } from '../core/material/errors.ts';
import type { TurnoverFile } from '../formats/turnover/turnover-file.ts';
import { parseTurnover, TURNOVER_FILE } from '../formats/turnover/turnover-file.ts';
import type { PreviousTurnover } from '../steps/turnover/turnover-options.ts';
import { readPlainText } from './read-text.ts';

/**
 * The turnover before: the package named, else the latest of the show among those that lie in `folder`. Packages that cannot be
 * read are named in `warnings`. @throws {UsageError} when the package named is none.
 */
export async function findPrevious(folder: string, show: string, named: string | undefined, warnings: string[]): Promise<PreviousTurnover | undefined> {
  if (named !== undefined) return readNamed(resolve(named));
  const names = (await readdir(folder).catch(() => [])).filter((name) => !name.startsWith('.')).toSorted();
  let latest: PreviousTurnover | undefined;
  for (const name of names) {
    const text = await readPlainText(join(folder, name, TURNOVER_FILE)).catch(() => undefined);
    if (text === undefined) continue;
    const parsed = parseTurnover(text);
    if (parsed.kind === 'faulty') warnings.push(`${join(folder, name)} is no turnover gemel can go on from: ${parsed.faults.join('; ')}`);
    else if (parsed.value.show === show && parsed.value.revision > (latest?.turnover.revision ?? 0)) latest = { package: name, turnover: parsed.value };
  }
  return latest;
}

async function readNamed(folder: string): Promise<PreviousTurnover> {
  const text = await readPlainText(join(folder, TURNOVER_FILE)).catch(() => undefined);
  if (text === undefined) throw new UsageError([`${folder} is no turnover package: it holds no ${TURNOVER_FILE}`]);
  const parsed = parseTurnover(text);
  if (parsed.kind === 'faulty') throw new UsageError([`${join(folder, TURNOVER_FILE)} cannot be read: ${parsed.faults.join('; ')}`]);
  const turnover: TurnoverFile = parsed.value;
  return { package: basename(folder), turnover };
}
