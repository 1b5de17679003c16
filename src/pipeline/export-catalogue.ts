import { stat } from 'node:fs/promises';
import { postgresLines, sqliteLines } from '../adapters/catalogue/read-catalogue.ts';
import { UsageError } from '../core/material/errors.ts';
import type { CatalogueEntry } from '../formats/catalogue/catalogue-export.ts';
import { EXPORT_HEAD, formatEntry } from '../formats/catalogue/catalogue-export.ts';
import { cataloguePath } from './open-catalogue.ts';
import { withoutSecrets } from './without-secrets.ts';

/** The catalogue of an output folder, or of a database, as JSON lines. @throws {UsageError} when there is none, or it cannot be read. */
export async function* exportCatalogue(from: { readonly out: string } | { readonly database: string }, signal: AbortSignal): AsyncGenerator<string> {
  const path = 'out' in from ? cataloguePath(from.out) : undefined;
  if (path !== undefined && (await stat(path).catch(() => undefined)) === undefined) {
    throw new UsageError([`there is no catalogue at ${path}: name the output folder of a check, run or watch`]);
  }
  const lines: AsyncGenerator<CatalogueEntry> = 'out' in from ? sqliteLines(cataloguePath(from.out)) : postgresLines(from.database);
  try {
    yield EXPORT_HEAD;
    for await (const line of lines) {
      signal.throwIfAborted();
      yield formatEntry(line);
    }
  } catch (problem) {
    signal.throwIfAborted();
    const reason = problem instanceof Error ? problem.message : String(problem);
    throw new UsageError([`the catalogue cannot be read: ${'database' in from ? withoutSecrets(reason, from.database) : `${cataloguePath(from.out)}: ${reason}`}`]);
  }
}
