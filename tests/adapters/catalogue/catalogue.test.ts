import { execFile } from 'node:child_process';
import { closeSync, copyFileSync, existsSync, mkdirSync, mkdtempSync, openSync, readFileSync, rmSync, truncateSync, writeFileSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { promisify } from 'node:util';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { MendingCatalogue } from '../../../src/adapters/catalogue/mending-catalogue.ts';
import { openPostgresCatalogue } from '../../../src/adapters/catalogue/open-postgres-catalogue.ts';
import { openSqliteCatalogue } from '../../../src/adapters/catalogue/open-sqlite-catalogue.ts';
import { postgresLines, sqliteLines } from '../../../src/adapters/catalogue/read-catalogue.ts';
import type { CatalogueEntry } from '../../../src/formats/catalogue/catalogue-export.ts';
import type { Catalogue } from '../../../src/ports.ts';
import type { TestServer } from '../../support/postgres.ts';
import { startPostgres } from '../../support/postgres.ts';

const MODULE = new URL('../../../src/adapters/catalogue/open-sqlite-catalogue.ts', import.meta.url).href;
const folder = mkdtempSync(join(tmpdir(), 'gemel-catalogue-'));
let server: TestServer | undefined;
let count = 0;
const open: Catalogue[] = [];

beforeAll(async () => {
  server = await startPostgres();
});

afterEach(async () => {
  for (const catalogue of open.splice(0)) await catalogue.close();
});

afterAll(async () => {
  await server?.stop();
  rmSync(folder, { recursive: true, force: true });
});

/** Where a test's catalogue lies, and how it is opened again for another job. */
type Opener = (job?: string) => Promise<Catalogue>;
type Lines = () => AsyncGenerator<CatalogueEntry>;

const BACK_ENDS: readonly { readonly name: string; readonly where: () => Promise<{ readonly again: Opener; readonly lines: Lines } | undefined> }[] = [
  {
    name: 'in an SQLite file',
    where: async () => {
      const path = join(folder, `catalogue-${count++}.sqlite`);
      return { again: async (job = 'saltmarsh') => held((await openSqliteCatalogue(path, job)).catalogue), lines: () => sqliteLines(path) };
    },
  },
  {
    name: 'in PostgreSQL',
    where: async () => {
      const address = await server?.database();
      return address === undefined ? undefined : { again: async (job = 'saltmarsh') => held(await openPostgresCatalogue(address, job)), lines: () => postgresLines(address) };
    },
  },
];

function held(catalogue: Catalogue): Catalogue {
  open.push(catalogue);
  return catalogue;
}

describe.each(BACK_ENDS)('a catalogue $name', ({ where }) => {
  let place: Awaited<ReturnType<typeof where>>;

  beforeEach(async () => {
    place = await where();
  });

  const within = (name: string, check: (again: Opener, lines: Lines) => Promise<void>): void =>
    it(name, async ({ skip }) => {
      if (place === undefined) return skip('no server here');
      return check(place.again, place.lines);
    });

  within('finds what it keeps, by kind and key, also after it was closed', async (again) => {
    const first = await again();
    await first.keep('reading', new Map([['a', 'one'], ['b', 'two']]));
    await first.keep('still', new Map([['a', 'a picture']]));
    await first.keep('reading', new Map([['b', 'two again'], ['c', 'O\u2019Hara "quoted" \\ \u{1f3ac}']]));
    const second = await again();
    expect(await second.find('reading', ['c', 'b', 'a', 'b', 'absent'])).toEqual(new Map([['a', 'one'], ['b', 'two again'], ['c', 'O\u2019Hara "quoted" \\ \u{1f3ac}']]));
    expect(await second.keys('reading')).toEqual(['a', 'b', 'c']);
    await second.forget('reading', ['a', 'absent']);
    expect(await first.keys('reading')).toEqual(['b', 'c']);
    expect(await first.keys('still')).toEqual(['a']);
  });

  within('keeps more at once than one statement takes', async (again) => {
    const catalogue = await again();
    const many = new Map(Array.from({ length: 3201 }, (_, index) => [`key ${index}`, `text ${index}`]));
    await catalogue.keep('reading', many);
    expect(await catalogue.find('reading', [...many.keys()])).toEqual(many);
  });

  within('parts the places of one job from those of another', async (again) => {
    const one = await again('saltmarsh');
    const other = await again('harbour');
    await one.notePlaces([{ file: 'A/1.mov', signature: '1-1', content: 'x' }, { file: 'A/2.mov', signature: '2-2', content: undefined }], []);
    await other.notePlaces([{ file: 'A/1.mov', signature: '9-9', content: 'y' }], []);
    await one.notePlaces([{ file: 'A/1.mov', signature: '1-3', content: 'z' }], ['A/2.mov', 'never/there.mov']);
    expect([...(await one.places()).values()]).toEqual([{ file: 'A/1.mov', signature: '1-3', content: 'z' }]);
    expect([...(await other.places()).values()]).toEqual([{ file: 'A/1.mov', signature: '9-9', content: 'y' }]);
  });

  within('forgets what nobody used for so many days, and nothing that was used', async (again) => {
    const catalogue = await again();
    const keyed = (...keys: readonly string[]): ReadonlyMap<string, string> => new Map(keys.map((key) => [key, 'text']));
    await catalogue.keep('reading', keyed('old', 'moved', 'daily'));
    await catalogue.notePlaces([{ file: 'A/1.mov', signature: '1-1', content: 'x' }], []);
    const idle = await again('harbour');
    await idle.notePlaces([{ file: 'A/1.mov', signature: '1-1', content: 'x' }], []);
    await idle.tidy(20_000, 90);
    await catalogue.tidy(20_000, 90);
    // Another process keeps a text and never tidies: its text has the day it was first seen.
    await (await again()).keep('still', keyed('of a worker'));
    await catalogue.find('reading', ['moved', 'absent']);
    await catalogue.tidy(20_060, 90);
    const later = await again();
    await later.find('reading', ['daily']);
    await later.tidy(20_090, 90);
    expect(await catalogue.keys('reading')).toEqual(['daily', 'moved', 'old']);
    await later.tidy(20_091, 90);
    expect(await catalogue.keys('reading')).toEqual(['daily', 'moved']);
    expect(await catalogue.keys('still')).toEqual(['of a worker']);
    expect([...(await catalogue.places()).keys()]).toEqual(['A/1.mov']);
    expect([...(await idle.places()).keys()]).toEqual([]);
    await later.tidy(20_151, 90);
    expect(await catalogue.keys('reading')).toEqual(['daily']);
    expect(await catalogue.keys('still')).toEqual([]);
    await later.tidy(20_181, 90);
    expect(await catalogue.keys('reading')).toEqual([]);
  });

  within('is told whole, in order, by those who only read it', async (again, lines) => {
    const catalogue = await again();
    await catalogue.notePlaces(Array.from({ length: 130 }, (_, index) => ({ file: `A/${100 + index}.mov`, signature: '1-1', content: index % 2 === 0 ? `content ${index}` : undefined })), []);
    await catalogue.keep('still', new Map([['b', 'AAAA'], ['a', '']]));
    await catalogue.keep('reading', new Map(Array.from({ length: 250 }, (_, index) => [`key ${1000 + index}`, `{"n":${index}}`])));
    const told: CatalogueEntry[] = [];
    for await (const line of lines()) told.push(line);
    expect(told).toHaveLength(130 + 252);
    expect(told.slice(0, 2)).toEqual([{ kind: 'place', job: 'saltmarsh', file: 'A/100.mov', signature: '1-1', content: 'content 0' }, { kind: 'place', job: 'saltmarsh', file: 'A/101.mov', signature: '1-1', content: null }]);
    expect(told.slice(130, 131)).toEqual([{ kind: 'kept', of: 'reading', key: 'key 1000', text: '{"n":0}' }]);
    expect(told.slice(-2).map((line) => (line.kind === 'kept' ? [line.of, line.key, line.text] : []))).toEqual([['still', 'a', ''], ['still', 'b', 'AAAA']]);
    expect(new Set(told.map((line) => JSON.stringify(line))).size).toBe(told.length);
  });

  within('takes what is written at once', async (again) => {
    const catalogue = await again();
    await Promise.all(
      Array.from({ length: 6 }, async (_, writer) => {
        for (let round = 0; round < 20; round += 1) await catalogue.keep('reading', new Map([['shared', `${writer}`], [`${writer} ${round}`, 'kept']]));
      }),
    );
    expect(await catalogue.keys('reading')).toHaveLength(6 * 20 + 1);
  });
});

/** Writes over pages of a file of 20 MB. */
function harm(path: string): void {
  const harmed = openSync(path, 'r+');
  for (let at = 1_000_000; at < 19_000_000; at += 500_000) writeSync(harmed, Buffer.alloc(4096, 0xa5), 0, 4096, at - (at % 4096));
  closeSync(harmed);
}

describe('a catalogue file', () => {
  it('that was cut off is put aside, said so, and begun anew', async () => {
    const path = join(folder, 'cut.sqlite');
    const before = (await openSqliteCatalogue(path, '')).catalogue;
    await before.keep('reading', new Map(Array.from({ length: 2000 }, (_, index) => [`key ${index}`, 'x'.repeat(200)])));
    await before.close();
    truncateSync(path, 40_000);
    const { catalogue, warnings } = await openSqliteCatalogue(path, '');
    open.push(catalogue);
    expect(warnings.join()).toMatch(/was damaged .* put aside as .*cut\.sqlite\.damaged/);
    expect(await catalogue.keys('reading')).toEqual([]);
    await catalogue.keep('reading', new Map([['a', 'one']]));
    expect(readFileSync(`${path}.damaged`)).toHaveLength(40_000);
  });

  it('of many megabytes is looked through only when there is a reason to doubt it', async () => {
    const path = join(folder, 'large.sqlite');
    const keys = Array.from({ length: 400 }, (_, index) => `key ${index}`);
    const before = (await openSqliteCatalogue(path, '')).catalogue;
    await before.keep('reading', new Map(keys.map((key) => [key, 'x'.repeat(50_000)])));
    await before.close();
    const cutOff = join(folder, 'large-cut.sqlite');
    copyFileSync(path, cutOff);
    truncateSync(cutOff, 17_000_000);
    harm(path);
    const trusting = await openSqliteCatalogue(path, '');
    expect(trusting.warnings).toEqual([]);
    await expect(trusting.catalogue.find('reading', keys)).rejects.toThrow(/malformed/);
    await trusting.catalogue.close();
    // Whoever meets damage leaves word of it.
    const { catalogue, warnings } = await openSqliteCatalogue(path, '');
    open.push(catalogue);
    expect(warnings.join()).toMatch(/was damaged .* put aside/);
    expect(existsSync(`${path}.doubt`)).toBe(false);
    // One that is shorter than its header says needs no word.
    const cut = await openSqliteCatalogue(cutOff, '');
    open.push(cut.catalogue);
    expect(cut.warnings).toHaveLength(1);
  });

  it('that is damaged while it is open is put aside once, said so, and begun anew, for all who ask at the same time', async () => {
    const path = join(folder, 'open.sqlite');
    const keys = Array.from({ length: 400 }, (_, index) => `key ${index}`);
    const before = (await openSqliteCatalogue(path, '')).catalogue;
    await before.keep('reading', new Map(keys.map((key) => [key, 'x'.repeat(50_000)])));
    await before.close();
    const warnings: string[] = [];
    const catalogue = held(await MendingCatalogue.open(path, '', (warning) => void warnings.push(warning)));
    expect((await catalogue.find('reading', ['key 1'])).size).toBe(1);
    harm(path);
    const answers = await Promise.all([catalogue.find('reading', keys), catalogue.keys('reading'), catalogue.find('reading', keys.slice(100))]);
    expect(answers.map((answer) => [...answer.values()].length).slice(0, 1)).toEqual([0]);
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toMatch(/was damaged .* put aside as .*open\.sqlite\.damaged and is made anew from the media/);
    await catalogue.keep('reading', new Map([['a', 'one']]));
    await catalogue.close();
    const after = await openSqliteCatalogue(path, '');
    open.push(after.catalogue);
    expect(after.warnings).toEqual([]);
    expect(await after.catalogue.keys('reading')).toEqual(['a']);
    expect(existsSync(`${path}.doubt`)).toBe(false);
  });

  it('that cannot be begun anew is tried again at the next question', async () => {
    const path = join(folder, 'full', 'catalogue.sqlite');
    const catalogue = held(await MendingCatalogue.open(path, '', () => {}));
    await catalogue.keep('reading', new Map(Array.from({ length: 400 }, (_, index) => [`key ${index}`, 'x'.repeat(50_000)])));
    await catalogue.close();
    const again = held(await MendingCatalogue.open(path, '', () => {}));
    harm(path);
    // A folder that is not empty has the name the damaged file is to take.
    mkdirSync(join(`${path}.damaged`, 'full'), { recursive: true });
    await expect(again.find('reading', Array.from({ length: 400 }, (_, index) => `key ${index}`))).rejects.toThrow();
    rmSync(`${path}.damaged`, { recursive: true });
    expect(await again.keys('reading')).toEqual([]);
  });

  it('that is no database at all is put aside too', async () => {
    const path = join(folder, 'text.sqlite');
    writeFileSync(path, 'this is a shopping list, and a long one at that: '.repeat(100));
    const { catalogue, warnings } = await openSqliteCatalogue(path, '');
    open.push(catalogue);
    expect(warnings).toHaveLength(1);
  });

  it('of a newer gemel is left alone', async () => {
    const path = join(folder, 'newer.sqlite');
    await (await openSqliteCatalogue(path, '')).catalogue.close();
    const database = new DatabaseSync(path);
    database.exec('update gemel_schema set version = 999');
    database.close();
    await expect(openSqliteCatalogue(path, '')).rejects.toThrow(/version 999/);
  });

  it('of an older gemel is brought up to date, with all that it holds', async () => {
    const path = join(folder, 'older.sqlite');
    const before = (await openSqliteCatalogue(path, '')).catalogue;
    await before.keep('reading', new Map([['a', 'one']]));
    await before.close();
    const database = new DatabaseSync(path);
    // Version 1 had no days of use.
    database.exec('drop table gemel_used; update gemel_schema set version = 1');
    database.close();
    const { catalogue, warnings } = await openSqliteCatalogue(path, '');
    open.push(catalogue);
    expect(warnings).toEqual([]);
    await catalogue.tidy(20_000, 90);
    expect(await catalogue.find('reading', ['a'])).toEqual(new Map([['a', 'one']]));
  });

  it('serves several processes at once', async () => {
    const path = join(folder, 'shared.sqlite');
    const script = `
      const { openSqliteCatalogue } = await import(${JSON.stringify(MODULE)});
      const { catalogue } = await openSqliteCatalogue(${JSON.stringify(path)}, '');
      for (let n = 0; n < 40; n += 1) await catalogue.keep('reading', new Map([['shared', String(n)], [process.pid + ' ' + n, 'x']]));
      await catalogue.close();`;
    await Promise.all(Array.from({ length: 3 }, async () => promisify(execFile)(process.execPath, ['--input-type=module', '-e', script], { timeout: 40_000 })));
    const { catalogue, warnings } = await openSqliteCatalogue(path, '');
    open.push(catalogue);
    expect(warnings).toEqual([]);
    expect(await catalogue.keys('reading')).toHaveLength(3 * 40 + 1);
  });

  it('loses nothing it acknowledged when its process is killed in mid-work', async () => {
    const path = join(folder, 'killed.sqlite');
    const script = `
      const { openSqliteCatalogue } = await import(${JSON.stringify(MODULE)});
      const { catalogue } = await openSqliteCatalogue(${JSON.stringify(path)}, '');
      for (let n = 0; ; n += 1) { await catalogue.keep('reading', new Map([[process.pid + ' ' + n, 'x'], [process.pid + ' ' + n + ' too', 'x']])); console.log(process.pid + ' ' + n); }`;
    for (const afterMs of [300, 420, 510]) {
      const run = promisify(execFile)(process.execPath, ['--input-type=module', '-e', script], { timeout: afterMs + 400, killSignal: 'SIGKILL' });
      const { stdout } = await run.catch((killed: unknown) => killed as { stdout: string });
      const acknowledged = stdout.split('\n').filter((line) => /^\d+ \d+$/.test(line));
      const { catalogue, warnings } = await openSqliteCatalogue(path, '');
      const keys = new Set(await catalogue.keys('reading'));
      await catalogue.close();
      expect(warnings).toEqual([]);
      expect(acknowledged.filter((key) => !keys.has(key) || !keys.has(`${key} too`))).toEqual([]);
      // Each step is whole or absent: both of its keys, or neither.
      expect([...keys].filter((key) => !keys.has(key.endsWith(' too') ? key.slice(0, -4) : `${key} too`))).toEqual([]);
    }
    const database = new DatabaseSync(path);
    expect(database.prepare('PRAGMA integrity_check').get()).toMatchObject({ integrity_check: 'ok' });
    database.close();
  });
});
