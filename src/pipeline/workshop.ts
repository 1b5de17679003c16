import type { Config } from '../config/resolved.ts';
import type { Catalogue } from '../ports.ts';
import type { FarmHands } from './farm/farm-hands.ts';
import type { Mounts } from './farm/mounts.ts';
import { openCatalogue } from './open-catalogue.ts';

/** What is held open while days are worked on: once for a single day, for weeks by a watch. */
export interface Workshop extends AsyncDisposable {
  readonly catalogue: Catalogue | undefined;
  /** Other machines that share the work; only with a database. */
  readonly farm: FarmHands | undefined;
}

/** What may be asked of a workshop. */
export interface WorkshopOptions {
  /** Address of a PostgreSQL database; without it the catalogue lies in a file beside the output. */
  readonly database?: string | undefined;
  /** Names of shared volumes and where they lie on this machine; with a database. */
  readonly mounts?: Mounts;
  /** False: keep nothing and read everything anew. */
  readonly remember?: boolean;
}

/** Opens a workshop; what could not be had is added to `warnings`. @throws {UsageError} when a database is named and does not answer. */
export async function openWorkshop(config: Config, { database, mounts = {}, remember = true }: WorkshopOptions, warnings: string[]): Promise<Workshop> {
  const catalogue = remember ? await openCatalogue(config, database, warnings) : undefined;
  const farm = database === undefined ? undefined : { farm: await (await import('./farm/open-farm.ts')).openFarm(database, (reason) => void warnings.push(reason)), mounts };
  return {
    catalogue,
    farm,
    [Symbol.asyncDispose]: async () => {
      await farm?.farm.close();
      await catalogue?.close();
    },
  };
}
