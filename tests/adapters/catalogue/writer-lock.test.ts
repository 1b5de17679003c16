import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { LockHeldError, takeWriterLock } from '../../../src/adapters/catalogue/writer-lock.ts';

const folder = mkdtempSync(join(tmpdir(), 'gemel-lock-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('the lock of an output folder', () => {
  it('is held by one, who says who it is, and is free again afterwards', async () => {
    const path = join(folder, 'one', 'writer.lock');
    {
      await using _held = await takeWriterLock(path, 'gemel watch');
      await expect(takeWriterLock(path, 'gemel check')).rejects.toThrow(LockHeldError);
      await expect(takeWriterLock(path, 'gemel check')).rejects.toThrow(new RegExp(`gemel watch, process ${process.pid} on `));
    }
    await using _again = await takeWriterLock(path, 'gemel check');
  });

  it('is not held by a process that was killed', async () => {
    const path = join(folder, 'two', 'writer.lock');
    const module = new URL('../../../src/adapters/catalogue/writer-lock.ts', import.meta.url).href;
    const script = `const { takeWriterLock } = await import(${JSON.stringify(module)}); await takeWriterLock(${JSON.stringify(path)}, 'gemel watch'); console.log('held'); setInterval(() => {}, 1000);`;
    const holder = spawn(process.execPath, ['--input-type=module', '-e', script], { stdio: ['ignore', 'pipe', 'inherit'] });
    await once(holder.stdout, 'data');
    await expect(takeWriterLock(path, 'gemel check')).rejects.toThrow(new RegExp(`process ${holder.pid}`));
    holder.kill('SIGKILL');
    await once(holder, 'exit');
    await using _free = await takeWriterLock(path, 'gemel check');
  });
});
