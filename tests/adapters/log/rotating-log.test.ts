import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { rotatingLog } from '../../../src/adapters/log/rotating-log.ts';

const folder = mkdtempSync(join(tmpdir(), 'gemel-log-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('a log', () => {
  it('is lines of JSON, and never grows beyond its limits', () => {
    const log = rotatingLog(join(folder, 'log', 'watch.log'), { sizeBytes: 2000, kept: 2 });
    for (let number = 0; number < 100; number += 1) log.info({ number, name: 'line\nbreak "and" \u001b[31m' }, 'working');
    const names = readdirSync(join(folder, 'log')).toSorted();
    expect(names).toEqual(['watch.log', 'watch.log.1', 'watch.log.2']);
    const lines = names.toReversed().flatMap((name) => readFileSync(join(folder, 'log', name), 'utf8').trimEnd().split('\n'));
    const numbers = lines.map((line) => Number((JSON.parse(line) as { number: number }).number));
    expect(numbers).toEqual(Array.from({ length: numbers.length }, (_, index) => 100 - numbers.length + index));
    expect(names.map((name) => readFileSync(join(folder, 'log', name)).length).filter((size) => size > 2000)).toEqual([]);
  });

  it('stops nothing when it cannot be written', () => {
    writeFileSync(join(folder, 'a file'), '');
    expect(() => rotatingLog(join(folder, 'a file', 'log', 'watch.log')).info('still here')).not.toThrow();
  });
});
