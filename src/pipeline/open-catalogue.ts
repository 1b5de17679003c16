import { join, resolve } from 'node:path';
import { MendingCatalogue } from '../adapters/catalogue/mending-catalogue.ts';
import type { Config } from '../config/resolved.ts';
import { UsageError } from '../core/material/errors.ts';
import type { Catalogue } from '../ports.ts';
import { withoutSecrets } from './without-secrets.ts';

/** Where gemel keeps its own things below the output folder. Hidden: nobody hands it on. */
export function ownFolder(out: string): string {
  return join(out, '.gemel');
}

/** The catalogue beside the output. */
export function cataloguePath(out: string): string {
  return join(ownFolder(out), 'catalogue.sqlite');
}

/**
 * Opens the catalogue a job uses: in PostgreSQL when the job names a database, else in a file beside the output. A file that
 * cannot be used costs time, not the day: a warning says so, and everything is read anew. Warnings may come later, too, as long as
 * it is open.
 * @throws {UsageError} when a database is named and does not answer: workers that part there would each think they are alone.
 */
export async function openCatalogue({ out, show, media }: Pick<Config, 'out' | 'show' | 'media'>, database: string | undefined, warnings: string[]): Promise<Catalogue | undefined> {
  if (database !== undefined) {
    try {
      const { openPostgresCatalogue } = await import('../adapters/catalogue/open-postgres-catalogue.ts');
      return await openPostgresCatalogue(database, [show, ...media.map((folder) => resolve(folder)).toSorted()].join('\n'));
    } catch (problem) {
      throw new UsageError([`the database does not take the catalogue: ${withoutSecrets(reasonOf(problem), database)}; check the address, the server and its rights`]);
    }
  }
  try {
    return await MendingCatalogue.open(cataloguePath(out), '', (warning) => void warnings.push(warning));
  } catch (problem) {
    warnings.push(`no catalogue (${cataloguePath(out)}: ${reasonOf(problem)}): everything is read anew`);
    return undefined;
  }
}

function reasonOf(problem: unknown): string {
  return problem instanceof Error && problem.message !== '' ? problem.message : String(problem);
}
