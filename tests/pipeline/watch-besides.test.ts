import { mkdirSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Config } from '../../src/config/resolved.ts';
import { besidesOf } from '../../src/pipeline/watch-besides.ts';
import { defaultConfig } from '../support/default-config.ts';

const folder = mkdtempSync(join(tmpdir(), 'gemel-besides-'));
const inFolder = (name: string): string => join(folder, name);
const NAMED = ['show.yaml', 'corrections.yaml', 'shots.csv', 'cut.edl', 'sheet.yaml', 'mapping.yaml', 'sensors.yaml'];
const config: Config = {
  ...defaultConfig(),
  from: inFolder('show.yaml'),
  correctionsFile: inFolder('corrections.yaml'),
  shotList: inFolder('shots.csv'),
  cuts: [inFolder('cut.edl')],
  sheetTemplate: inFolder('sheet.yaml'),
  mappingFiles: [inFolder('mapping.yaml')],
  sensorModeFiles: [inFolder('sensors.yaml')],
  proxies: [inFolder('proxies')],
  settleSeconds: 10,
};
let clockMs = 0;
const wordNow = async (): Promise<string> => besidesOf(config, { nowMs: () => clockMs, pause: async () => {} }, new AbortController().signal);

beforeAll(() => {
  mkdirSync(inFolder('proxies'));
  for (const name of NAMED) writeFileSync(inFolder(name), name);
  clockMs = Date.now() + 60_000;
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('what a day is made from besides its media', () => {
  it('is the same while nothing changes, and another when any file the pipeline names is written or removed', async () => {
    const first = await wordNow();
    expect(await wordNow()).toBe(first);
    const seen = new Set([first]);
    for (const name of NAMED) {
      writeFileSync(inFolder(name), `${name}, and more`);
      seen.add(await wordNow());
      rmSync(inFolder(name));
      seen.add(await wordNow());
    }
    expect(seen.size).toBe(1 + 2 * NAMED.length);
  });

  it('is another when a proxy has come to rest, and not while it may still be copied', async () => {
    const before = await wordNow();
    writeFileSync(inFolder('proxies/A001C001_proxy.mov'), 'a proxy');
    const landedMs = statSync(inFolder('proxies/A001C001_proxy.mov')).mtimeMs;
    clockMs = landedMs + 9_000;
    expect(await wordNow()).toBe(before);
    clockMs = landedMs + 11_000;
    expect(await wordNow()).not.toBe(before);
  });
});
