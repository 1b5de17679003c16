import { appendFileSync, existsSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ResultFolder } from '../../../src/adapters/filesystem/result-folder.ts';
import { temporaryFolder } from '../../support/make-media.ts';

const page = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A folder in which an earlier run made these pages, each of "recipe" and its name. */
async function madeBefore(names: readonly string[]): Promise<string> {
  const folder = join(temporaryFolder(), 'out');
  const first = await ResultFolder.open(folder);
  for (const name of names) await first.write(name, page(`page ${name}`), `recipe ${name}`);
  await first.finish();
  return folder;
}

describe('a page of an earlier run', () => {
  it('stands when it was made of the same and is there as it was', async () => {
    const folder = await madeBefore(['sheets/a.pdf', 'sheets/b.pdf']);
    const again = await ResultFolder.open(folder);
    expect(await again.holds('sheets/a.pdf', 'recipe sheets/a.pdf')).toBe(true);
    expect(await again.holds('sheets/b.pdf', 'another recipe')).toBe(false);
    expect(await again.holds('sheets/c.pdf', 'recipe sheets/c.pdf')).toBe(false);
    await again.finish();
    expect(readdirSync(join(folder, 'sheets'))).toEqual(['a.pdf']);
    const third = await ResultFolder.open(folder);
    expect(await third.holds('sheets/a.pdf', 'recipe sheets/a.pdf')).toBe(true);
  });

  it('does not stand when it was harmed, removed, or exchanged for a link', async () => {
    const folder = await madeBefore(['a.pdf', 'b.pdf', 'c.pdf']);
    appendFileSync(join(folder, 'a.pdf'), 'more');
    rmSync(join(folder, 'b.pdf'));
    rmSync(join(folder, 'c.pdf'));
    writeFileSync(join(folder, 'other'), 'page c.pdf');
    symlinkSync(join(folder, 'other'), join(folder, 'c.pdf'));
    const again = await ResultFolder.open(folder);
    for (const name of ['a.pdf', 'b.pdf', 'c.pdf']) expect(await again.holds(name, `recipe ${name}`), name).toBe(false);
  });

  it('does not stand when nobody said what it was made of, or the note of it is no note', async () => {
    const folder = await madeBefore(['a.pdf']);
    const second = await ResultFolder.open(folder);
    await second.write('a.pdf', page('half'), '');
    await second.finish();
    expect(await (await ResultFolder.open(folder)).holds('a.pdf', '')).toBe(false);
    for (const note of ['{"a.pdf', '7', 'null', '{"a.pdf": 7}', '["a.pdf"]']) {
      writeFileSync(join(folder, '.gemel-made.json'), note);
      expect(await (await ResultFolder.open(folder)).holds('a.pdf', 'recipe a.pdf'), note).toBe(false);
    }
  });

  it('is left alone when a run ends before it has finished', async () => {
    const folder = await madeBefore(['a.pdf', 'b.pdf']);
    const broken = await ResultFolder.open(folder);
    await broken.write('a.pdf', page('page a.pdf, second edition'), 'recipe 2');
    expect(readFileSync(join(folder, 'a.pdf'), 'utf8')).toBe('page a.pdf, second edition');
    expect(existsSync(join(folder, 'b.pdf'))).toBe(true);
    const next = await ResultFolder.open(folder);
    expect(await next.holds('a.pdf', 'recipe 2')).toBe(false);
    expect(await next.holds('b.pdf', 'recipe b.pdf')).toBe(true);
  });

  it('that a killed run wrote over does not stand, though it is as long as before', async () => {
    const folder = await madeBefore(['a.pdf', 'b.pdf']);
    const killed = await ResultFolder.open(folder);
    await killed.write('a.pdf', page('PAGE a.pdf'), 'recipe 2');
    expect(await ResultFolder.stamp(folder)).toBeUndefined();
    const next = await ResultFolder.open(folder);
    expect([await next.holds('a.pdf', 'recipe a.pdf'), await next.holds('b.pdf', 'recipe b.pdf')]).toEqual([false, true]);
  });

  it('that a killed run alone wrote is removed, and so is what it left half written', async () => {
    const folder = await madeBefore(['a.pdf']);
    const stamp = await ResultFolder.stamp(folder);
    for (const name of ['sheets/new.pdf', 'sheets/half.pdf']) await (await ResultFolder.open(folder)).write(name, page(name), 'recipe');
    writeFileSync(join(folder, 'sheets', `half.pdf.unfinished-${process.pid}`), 'ha');
    appendFileSync(join(folder, '.gemel-making'), '"sheets/cut o');
    const next = await ResultFolder.open(folder);
    expect(await next.holds('a.pdf', 'recipe a.pdf')).toBe(true);
    await next.write('b.pdf', page('b'), 'recipe b');
    await next.finish();
    expect(readdirSync(folder).toSorted()).toEqual(['.gemel-made.json', 'a.pdf', 'b.pdf', 'sheets']);
    expect(readdirSync(join(folder, 'sheets'))).toEqual([]);
    expect(await ResultFolder.stamp(folder)).not.toBe(stamp);
  });

  it('is removed from nowhere outside the folder, whatever the note says', async () => {
    const folder = await madeBefore([]);
    const outside = join(folder, '..', 'mine.txt');
    writeFileSync(outside, 'mine');
    writeFileSync(join(folder, 'kept.txt'), 'of somebody else');
    const made = { sizeBytes: 4, madeOf: 'x' };
    writeFileSync(join(folder, '.gemel-made.json'), JSON.stringify({ '../mine.txt': made, [outside]: made, 'a/../../mine.txt': made }));
    await (await ResultFolder.open(folder)).finish();
    expect(readFileSync(outside, 'utf8')).toBe('mine');
    expect(existsSync(join(folder, 'kept.txt'))).toBe(true);
  });
});
