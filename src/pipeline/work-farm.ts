import { openCatalogue } from './open-catalogue.ts';
import type { Mounts } from './farm/mounts.ts';
import { openFarm } from './farm/open-farm.ts';
import { measuringHands } from './farm/decode-jobs.ts';
import { hashingHands } from './farm/hash-jobs.ts';
import { readingHands } from './farm/read-jobs.ts';
import { printingHands } from './farm/sheet-jobs.ts';
import { tidyDaily } from './tidy-daily.ts';
import type { Catalogue, Farm, JobHands } from '../ports.ts';

/** How many jobs of each kind one worker does at a time. */
export interface WorkerLimits {
  readonly read: number;
  readonly hash: number;
  readonly decode: number;
  readonly sheet: number;
}

/** What a worker is to do. */
export interface WorkOptions {
  readonly database: string;
  readonly mounts: Mounts;
  readonly limits: WorkerLimits;
  /** Hears of what was done: clips read, files hashed, leads measured, sheets printed. */
  readonly onJob: (kind: keyof WorkerLimits, done: number) => void;
  /** Hears of what goes wrong. */
  readonly onTrouble: (reason: string) => void;
}

/** Works for a farm until the signal fires; jobs in hand are finished. @throws {UsageError} when the database does not answer. */
export async function workFarm({ database, mounts, limits, onJob, onTrouble }: WorkOptions, signal: AbortSignal): Promise<void> {
  const catalogue = await openCatalogue({ out: '', show: '', media: [] }, database, []);
  const farm = await openFarm(database, onTrouble);
  try {
    if (catalogue !== undefined) await serveFarm({ farm, catalogue, mounts, limits, onJob }, signal);
  } finally {
    await farm.close();
    await catalogue?.close();
  }
}

/** Somebody who works for a farm: a worker, or a watch between its own rounds. */
export interface FarmServing {
  readonly farm: Farm;
  readonly catalogue: Catalogue;
  readonly mounts: Mounts;
  readonly limits: WorkerLimits;
  readonly onJob?: WorkOptions['onJob'];
}

/** Does jobs of every kind until the signal fires. */
export async function serveFarm({ farm, catalogue, mounts, limits, onJob = () => {} }: FarmServing, signal: AbortSignal): Promise<void> {
  const reading = readingHands(catalogue, mounts, limits.read, (clips) => onJob('read', clips));
  const hashing = hashingHands(catalogue, mounts, limits.hash, (files) => onJob('hash', files));
  const measuring = measuringHands(catalogue, mounts, limits.decode, (leads) => onJob('decode', leads));
  const printing = printingHands(catalogue, mounts, limits.sheet, (sheets) => onJob('sheet', sheets));
  const tidying = ({ atOnce, work }: JobHands): JobHands => ({
    atOnce,
    work: async (text, jobSignal) => {
      await work(text, jobSignal);
      await tidyDaily(catalogue);
    },
  });
  try {
    await farm.serve({ read: tidying(reading), hash: tidying(hashing), decode: tidying(measuring), sheet: tidying(printing) }, signal);
  } finally {
    await reading.close();
    await hashing.close();
    await measuring.close();
  }
}
