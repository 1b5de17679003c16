import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { ResultFolder } from '../adapters/filesystem/result-folder.ts';
import type { Verdict } from '../core/checks/judged.ts';
import type { Catalogue } from '../ports.ts';

/** Under this the catalogue keeps what the results of an output folder were made from. */
const KIND = 'watch';

/** What the results that stand in an output folder were made from, and what they came to. */
export interface LastRun {
  readonly madeFrom: string;
  readonly sets: Readonly<Record<Verdict, number>> | undefined;
  /** What stands before the files of the media folders that held clips. */
  readonly roots: readonly string[];
}

interface NotedRun extends LastRun {
  /** Of the output folder: what was made there since, by whomever, was made from something else. */
  readonly stamp: string;
}

/** The last run, as long as its results are there and nobody made others since. */
export async function findLastRun(catalogue: Catalogue | undefined, out: string): Promise<LastRun | undefined> {
  const text = (await catalogue?.find(KIND, [out]))?.get(out);
  const there = await Promise.all(['report.json', 'board.html'].map(async (name) => stat(join(out, name)).then(() => true, () => false)));
  if (text === undefined || there.includes(false)) return undefined;
  const said: unknown = JSON.parse(text);
  // Only this file writes it.
  return typeof said === 'object' && said !== null && 'madeFrom' in said && 'stamp' in said && said.stamp === (await ResultFolder.stamp(out)) ? (said as NotedRun) : undefined;
}

/** Notes what the results that were just made were made from. */
export async function noteRun(catalogue: Catalogue | undefined, out: string, run: LastRun): Promise<void> {
  const noted: LastRun & { readonly stamp: string | undefined } = { ...run, stamp: await ResultFolder.stamp(out) };
  await catalogue?.keep(KIND, new Map([[out, JSON.stringify(noted)]]));
}
