import { mkdirSync, mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { FolderHints } from '../../../src/adapters/filesystem/folder-hints.ts';

const above = mkdtempSync(join(tmpdir(), 'gemel-hints-'));
afterAll(() => rmSync(above, { recursive: true, force: true }));
const signal = new AbortController().signal;
const LONG_MS = 8000;
let folder = '';

beforeEach(() => {
  folder = mkdtempSync(join(above, 'media-'));
  mkdirSync(join(folder, 'A014', 'clips'), { recursive: true });
  writeFileSync(join(folder, 'A014', 'clips', 'old.mov'), '');
});

/** Whether something that is done wakes a wait long before its time. */
async function wakes(hints: FolderHints, deed: () => void): Promise<boolean> {
  await hints.wait(400, signal);
  const began = performance.now();
  setTimeout(deed, 100);
  await hints.wait(LONG_MS, signal);
  return performance.now() - began < LONG_MS * 0.9;
}

describe('hints of the file system', () => {
  it('tell of files that land, grow and go, however deep', async () => {
    await using hints = new FolderHints([folder]);
    const file = join(folder, 'A014', 'clips', 'new.mov');
    expect(await wakes(hints, () => writeFileSync(file, 'a'))).toBe(true);
    expect(await wakes(hints, () => writeFileSync(file, 'ab'))).toBe(true);
    expect(await wakes(hints, () => rmSync(file))).toBe(true);
  }, 60_000);

  it('tell of what lands in folders that came, were renamed, or came again under the same name', async () => {
    await using hints = new FolderHints([folder]);
    expect(await wakes(hints, () => mkdirSync(join(folder, 'B007', 'clips'), { recursive: true }))).toBe(true);
    expect(await wakes(hints, () => writeFileSync(join(folder, 'B007', 'clips', '1.mov'), ''))).toBe(true);
    expect(await wakes(hints, () => renameSync(join(folder, 'B007'), join(folder, 'B008')))).toBe(true);
    expect(await wakes(hints, () => writeFileSync(join(folder, 'B008', 'clips', '2.mov'), ''))).toBe(true);
    expect(await wakes(hints, () => rmSync(join(folder, 'A014'), { recursive: true }))).toBe(true);
    expect(await wakes(hints, () => mkdirSync(join(folder, 'A014', 'clips'), { recursive: true }))).toBe(true);
    expect(await wakes(hints, () => writeFileSync(join(folder, 'A014', 'clips', '3.mov'), ''))).toBe(true);
  }, 120_000);

  it('cost a watch a folder, not one a file', async () => {
    for (let number = 0; number < 200; number += 1) writeFileSync(join(folder, 'A014', 'clips', `${number}.mov`), '');
    await using hints = new FolderHints([folder]);
    await hints.wait(500, signal);
    expect(hints.watches).toBeLessThanOrEqual(3);
    rmSync(join(folder, 'A014'), { recursive: true });
    await hints.wait(500, signal);
    expect(hints.watches).toBeLessThanOrEqual(1);
  }, 30_000);

  it('stay silent while nothing happens, and end a wait when they are told to', async () => {
    await using hints = new FolderHints([folder, join(folder, 'is not there')]);
    const began = performance.now();
    await hints.wait(300, signal);
    expect(performance.now() - began).toBeGreaterThan(290);
    await hints.wait(60_000, AbortSignal.timeout(100));
    expect(performance.now() - began).toBeLessThan(30_000);
  }, 60_000);
});
