import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { sharedFolder } from '../support/make-media.ts';
import { compileCache, fingerprintTree, repository, runGemel } from '../support/run-gemel.ts';

describe('gemel catalogue', () => {
  let folder = '';
  beforeAll(() => {
    folder = sharedFolder();
    mkdirSync(join(folder, 'media'));
    cpSync(join(repository, 'sample-media', 'day-04', 'A015_M8TR'), join(folder, 'media', 'A015_M8TR'), { recursive: true });
    expect(runGemel(['check', 'media', '--out', 'out', '--no-sheets'], folder).code).not.toBe(2);
  });

  it('prints what is kept, one JSON value a line, and changes nothing', () => {
    const before = fingerprintTree(join(folder, 'out'));
    const { out, err, code } = runGemel(['catalogue', 'out'], folder);
    expect({ err, code }).toEqual({ err: '', code: 0 });
    const [head, ...lines] = out.trimEnd().split('\n').map((line) => JSON.parse(line));
    expect(head).toEqual({ schema: 'gemel/catalogue/1' });
    const clip = 'A015_M8TR/A015C001_261124_M8TR.mxf';
    const place = lines.find((line) => line.place === clip);
    expect(place).toMatchObject({ job: '', content: expect.stringMatching(/^\d+-[0-9a-f]{16}$/), signature: expect.stringMatching(/^\d+-/) });
    const reading = lines.find((line) => line.kind === 'reading' && line.value.file === clip);
    expect(reading.key).toContain(place.content);
    expect(reading.value.statements.length).toBeGreaterThan(3);
    // Whoever reads an SQLite file leaves its index of the log (-shm) beside it.
    const results = (lines: readonly string[]): readonly string[] => lines.filter((line) => !line.includes('/.gemel'));
    expect(results(fingerprintTree(join(folder, 'out')))).toEqual(results(before));
  });

  it('says plainly when there is none, and makes none', () => {
    expect(runGemel(['catalogue', 'media'], folder)).toMatchObject({ code: 2, out: '', err: expect.stringContaining('there is no catalogue at') });
    expect(fingerprintTree(join(folder, 'media')).join()).not.toContain('.gemel');
    expect(runGemel(['catalogue'], folder)).toMatchObject({ code: 2, err: expect.stringContaining('gemel catalogue OUT') });
  });

  it('ends quietly when nobody reads on', () => {
    const gemel = `"${process.execPath}" "${join(repository, 'bin', 'gemel.mjs')}" catalogue out`;
    const done = spawnSync('sh', ['-c', `${gemel} | head -n 1`], { cwd: folder, encoding: 'utf8', env: { ...process.env, NODE_COMPILE_CACHE: compileCache }, timeout: 60_000 });
    expect(done.stdout).toBe('{"schema":"gemel/catalogue/1"}\n');
    expect(done.stderr).not.toContain('fault of gemel');
  });
}, 120_000);
