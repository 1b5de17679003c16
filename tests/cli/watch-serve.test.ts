import type { ChildProcess } from 'node:child_process';
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { compileCache, repository, runGemel } from '../support/run-gemel.ts';

describe('gemel watch --serve', () => {
  let folder: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'gemel-serve-'));
    mkdirSync(join(folder, 'media'));
    writeFileSync(join(folder, 'show.yaml'), 'show: Saltmarsh Row\nmedia: [media]\nout: out\n');
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const started = (...args: readonly string[]): ChildProcess =>
    spawn(process.execPath, [join(repository, 'bin', 'gemel.mjs'), 'watch', 'show.yaml', ...args], { cwd: folder, stdio: ['ignore', 'pipe', 'ignore'], env: { ...process.env, NODE_COMPILE_CACHE: compileCache } });

  async function firstLine({ stdout }: ChildProcess): Promise<string> {
    if (stdout === null) throw new Error('nothing is read of it');
    const [line] = await once(createInterface(stdout), 'line');
    return String(line);
  }

  it('prints one address with a token, shows there how the watch stands, and ends with it', async () => {
    const watch = started('--serve', '0', '--host', '0.0.0.0');
    const ended = once(watch, 'exit');
    try {
      const line = await firstLine(watch);
      const url = /^Board: (http:\S+\/\?token=(\S+))$/.exec(line);
      const address = `http://127.0.0.1:${new URL(url?.[1] ?? '').port}`;
      const asked = await fetch(`${address}/live.json`, { headers: { authorization: `Bearer ${url?.[2]}` } });
      expect(await asked.json()).toMatchObject({ board: expect.any(String), standing: expect.stringMatching(/starting|files/) });
      expect((await fetch(`${address}/live.json`)).status).toBe(401);
      watch.kill('SIGINT');
      expect((await ended)[0]).toBe(0);
      await expect(fetch(address)).rejects.toThrow();
      expect(readFileSync(join(folder, 'out', '.gemel', 'log', 'watch.log'), 'utf8')).not.toContain(url?.[2]);
    } finally {
      watch.kill('SIGKILL');
    }
  });

  it('ends with exit code 2 and plain words when it cannot serve', async () => {
    const other = createServer().listen(0, '127.0.0.1');
    await once(other, 'listening');
    const address = other.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    try {
      const taken = runGemel(['watch', 'show.yaml', '--serve', String(port)], folder);
      expect([taken.code, taken.err]).toEqual([2, `gemel: port ${port} of 127.0.0.1 is in use; stop what uses it or give --serve another port (0 takes any that is free)\n`]);
    } finally {
      other.close();
    }
  });

  it.each([
    [['--host', '0.0.0.0'], '--host says where to serve the board; give --serve PORT too'],
    [['--serve', '70000'], 'expected a port, a whole number from 0 to 65535'],
    [['--serve', '80a'], 'expected a port, a whole number from 0 to 65535'],
  ])('refuses %j', (args, words) => {
    const { code, err } = runGemel(['watch', 'show.yaml', ...args], folder);
    expect(code).toBe(2);
    expect(err).toContain(words);
  });
});
