import { BossFarm } from '../../adapters/farm/boss-farm.ts';
import { UsageError } from '../../core/material/errors.ts';
import type { Farm } from '../../ports.ts';
import { withoutSecrets } from '../without-secrets.ts';

/** Joins the machines that share work in a database. `onTrouble` hears what goes wrong later. @throws {UsageError} when the server does not answer or refuses. */
export async function openFarm(database: string, onTrouble: (reason: string) => void): Promise<Farm> {
  try {
    return await BossFarm.open(database, (reason) => onTrouble(`farm: ${withoutSecrets(reason, database)}`));
  } catch (problem) {
    const reason = problem instanceof Error ? problem.message : String(problem);
    throw new UsageError([`the database does not take the farm's jobs: ${withoutSecrets(reason, database)}; check the address, the server and its rights`]);
  }
}
