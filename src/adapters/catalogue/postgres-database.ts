import type { PoolClient } from 'pg';
import { Pool } from 'pg';
import type { SqlDatabase, SqlRow, SqlSession, SqlValue } from './sql-database.ts';

const WAIT_MS = 10_000;
const STATEMENT_MS = 60_000;

/** A PostgreSQL database over at most so many connections, which are made when they are needed. */
export class PostgresDatabase implements SqlDatabase {
  readonly #pool: Pool;

  constructor(databaseUrl: string, connections: number) {
    this.#pool = new Pool({ connectionString: databaseUrl, max: connections, connectionTimeoutMillis: WAIT_MS, statement_timeout: STATEMENT_MS });
    // A connection that is lost while nobody uses it must not end the process; the next question finds out.
    this.#pool.on('error', () => {});
  }

  async rows(statement: string, values: readonly SqlValue[] = []): Promise<readonly SqlRow[]> {
    return ask(this.#pool, statement, values);
  }

  async whole<T>(work: (session: SqlSession) => Promise<T>): Promise<T> {
    const client = await this.#pool.connect();
    let broken = false;
    // Without a listener a connection that is lost in between would end the process; the next statement finds out.
    const lost = (): void => void (broken = true);
    client.on('error', lost);
    try {
      await client.query('begin');
      const result = await work({ rows: async (statement, values) => ask(client, statement, values ?? []) });
      await client.query('commit');
      return result;
    } catch (problem) {
      await client.query('rollback').catch(lost);
      throw problem;
    } finally {
      client.off('error', lost);
      client.release(broken);
    }
  }

  async close(): Promise<void> {
    await this.#pool.end();
  }
}

/** PostgreSQL counts its places: `?, ?` becomes `$1, $2`. No statement here has a "?" of its own. */
async function ask(connection: Pool | PoolClient, statement: string, values: readonly SqlValue[]): Promise<readonly SqlRow[]> {
  let place = 0;
  const { rows } = await connection.query<Record<string, unknown>>(statement.replaceAll('?', () => `$${(place += 1)}`), [...values]);
  return rows;
}
