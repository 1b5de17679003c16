import { inParts } from './in-parts.ts';
import type { SqlDatabase } from './sql-database.ts';
import { marks } from './sql-database.ts';

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
export async function tidyTables(database: SqlDatabase, { job, used, day, keepDays }: Tidying): Promise<void> {
  const rows = [...used].flatMap(([kind, keys]) => [...keys].map((key) => ({ kind, key })));
  // In one order everywhere, so that two processes never wait for each other in a ring.
  const sorted = [{ kind: PLACES, key: job }, ...rows].toSorted((a, b) => (`${a.kind} ${a.key}` < `${b.kind} ${b.key}` ? -1 : 1));
  const last = day - keepDays;
  await database.whole(async (session) => {
    for (const part of inParts(sorted)) {
      await session.rows(
        `insert into gemel_used (kind, key, day) values ${marks(part.length, 3)}
        on conflict (kind, key) do update set day = excluded.day where gemel_used.day < excluded.day`,
        part.flatMap(({ kind, key }) => [kind, key, day]),
      );
    }
    // Texts an older gemel kept have no day yet; theirs is today.
    await session.rows(
      `insert into gemel_used (kind, key, day) select kind, key, cast(? as integer) from gemel_kept
      where not exists (select 1 from gemel_used used where used.kind = gemel_kept.kind and used.key = gemel_kept.key) on conflict do nothing`,
      [day],
    );
    await session.rows('delete from gemel_kept where exists (select 1 from gemel_used used where used.kind = gemel_kept.kind and used.key = gemel_kept.key and used.day < ?)', [last]);
    await session.rows('delete from gemel_places where job in (select key from gemel_used where kind = ? and day < ?)', [PLACES, last]);
    await session.rows('delete from gemel_used where day < ?', [last]);
  });
}
