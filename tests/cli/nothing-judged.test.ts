import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runGemel } from '../support/run-gemel.ts';

describe('gemel check of a folder without a clip', () => {
  it('ends with 2, asks whether the card is mounted, and writes nothing', () => {
    const folder = mkdtempSync(join(tmpdir(), 'gemel-empty-'));
    try {
      const out = join(folder, '..', `${folder.split('/').at(-1) ?? ''}-out`);
      const run = runGemel(['check', folder, '--out', out], folder);
      expect(run.code).toBe(2);
      expect(run.err).toContain('is the card mounted');
      expect(existsSync(out)).toBe(false);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  }, 60_000);
});
