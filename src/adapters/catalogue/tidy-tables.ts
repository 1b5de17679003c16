import type { Kysely } from 'kysely';
import { sql } from 'kysely';
import { inParts } from './in-parts.ts';
import type { CatalogueTables } from './migrations.ts';

/** What one job used, by kind, since it last tidied. */
export interface Tidying {
  readonly job: string;
  readonly used: ReadonlyMap<string, ReadonlySet<string>>;
  readonly day: number;
  readonly keepDays: number;
}

/** Under this the places of a job are noted as used. */
const PLACES = 'places';

/** Notes what was used, and forgets what nobody used for so many days; whole or not at all. */
export async function tidyTables(database: Kysely<CatalogueTables>, { job, used, day, keepDays }: Tidying): Promise<void> {
  const rows = [...used].flatMap(([kind, keys]) => [...keys].map((key) => ({ kind, key, day })));
  // In one order everywhere, so that two processes never wait for each other in a ring.
  const sorted = [{ kind: PLACES, key: job, day }, ...rows].toSorted((a, b) => (`${a.kind} ${a.key}` < `${b.kind} ${b.key}` ? -1 : 1));
  await database.transaction().execute(async (transaction) => {
    for (const part of inParts(sorted)) await noteUsed(transaction, part);
    // Texts an older gemel kept have no day yet; theirs is today.
    await sql`insert into gemel_used (kind, key, day)
      select kind, key, ${sql.lit(day)} from gemel_kept where not exists (select 1 from gemel_used used where used.kind = gemel_kept.kind and used.key = gemel_kept.key)
      on conflict do nothing`.execute(transaction);
    const unused = sql<boolean>`exists (select 1 from gemel_used used where used.kind = gemel_kept.kind and used.key = gemel_kept.key and used.day < ${day - keepDays})`;
    await transaction.deleteFrom('gemel_kept').where(unused).execute();
    const idle = transaction.selectFrom('gemel_used').select('key').where('kind', '=', PLACES).where('day', '<', day - keepDays);
    await transaction.deleteFrom('gemel_places').where('job', 'in', idle).execute();
    await transaction.deleteFrom('gemel_used').where('day', '<', day - keepDays).execute();
  });
}

async function noteUsed(database: Kysely<CatalogueTables>, rows: readonly CatalogueTables['gemel_used'][]): Promise<void> {
  await database
    .insertInto('gemel_used')
    .values(rows)
    .onConflict((conflict) => conflict.columns(['kind', 'key']).doUpdateSet((row) => ({ day: row.ref('excluded.day') })).where('gemel_used.day', '<', (row) => row.ref('excluded.day')))
    .execute();
}
