import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { sharedFolder } from '../support/make-media.ts';
import { compileCache, repository, runGemel } from '../support/run-gemel.ts';
import { makeSmallDay, writeCut } from '../support/small-day.ts';

describe('a turnover that is killed', () => {
  let folder = '';
  beforeAll(async () => {
    folder = sharedFolder();
    await makeSmallDay(folder);
    writeCut(join(folder, 'cut.edl'), [['SMR_027_0100', 'A003C001_261125_R7QK.mov', '14:22:01:00', '14:22:03:00', '01:00:00:00', '01:00:02:00']]);
    mkdirSync(join(folder, 'vendor'));
  });

  it('leaves no half package at whatever frame it is killed, and the next run takes over what was right', async () => {
    const args = ['turnover', 'show.yaml', '--cut', 'cut.edl', '--out', 'vendor/t1', '--frames', 'dpx'];
    const building = join(folder, 'vendor', '.t1.building');
    const noted = (): readonly string[] => (existsSync(join(building, 'notes')) ? readFileSync(join(building, 'notes'), 'utf8').split('\n').filter((line) => line.endsWith('}')) : []);
    let first: { readonly file: string; readonly written: number } | undefined;
    for (const frames of [1, 70]) {
      const child = spawn(process.execPath, [join(repository, 'src', 'cli', 'main.ts'), ...args], { cwd: folder, stdio: 'ignore', env: { ...process.env, NODE_COMPILE_CACHE: compileCache } });
      const ended = new Promise((resolve) => child.once('close', resolve));
      while (noted().length < frames && child.exitCode === null) await new Promise((resolve) => setTimeout(resolve, 5));
      child.kill('SIGKILL');
      await ended;
      expect(child.signalCode).toBe('SIGKILL');
      expect(existsSync(join(folder, 'vendor', 't1'))).toBe(false);
      const file = JSON.parse(noted()[0] ?? '{}').file;
      first ??= { file, written: statSync(join(building, 'package', file)).mtimeMs };
    }
    expect(runGemel(args, folder)).toMatchObject({ err: '', code: 0 });
    expect(readdirSync(join(folder, 'vendor'))).toEqual(['t1']);
    expect(statSync(join(folder, 'vendor', 't1', first?.file ?? '')).mtimeMs).toBe(first?.written);
    const { passes } = JSON.parse(readFileSync(join(folder, 'vendor', 't1', 'SMR_027_0100', 'shot.json'), 'utf8'));
    for (const { role, pictures } of passes) expect(readdirSync(join(folder, 'vendor', 't1', 'SMR_027_0100', 'plates', role))).toHaveLength(pictures.count);
  });
}, 180_000);
