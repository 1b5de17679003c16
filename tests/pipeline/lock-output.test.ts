import { mkdirSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../src/core/material/errors.ts';
import { lockOutput } from '../../src/pipeline/lock-output.ts';
import { temporaryFolder } from '../support/make-media.ts';

describe('an output folder', () => {
  it('is refused to a second writer, who is told who holds it and what to do', async () => {
    const out = join(temporaryFolder(), 'out');
    const warnings: string[] = [];
    {
      await using _held = await lockOutput(out, 'gemel watch', warnings);
      const refusal = await lockOutput(out, 'gemel run', warnings).catch((problem: unknown) => problem);
      expect(refusal).toBeInstanceOf(UsageError);
      expect(String(refusal)).toMatch(/out is being written to by another gemel \(gemel watch, process \d+ on .+\); stop that one, or give --out FOLDER another folder/);
    }
    await using _free = await lockOutput(out, 'gemel run', warnings);
    expect(warnings).toEqual([]);
    expect(readdirSync(out)).toEqual(['.gemel']);
  });

  it('that cannot be locked is used all the same, with a warning', async () => {
    const out = join(temporaryFolder(), 'out');
    // A folder stands where the lock should be.
    mkdirSync(join(out, '.gemel', 'writer.lock'), { recursive: true });
    const warnings: string[] = [];
    await using _none = await lockOutput(out, 'gemel run', warnings);
    expect(warnings.join()).toMatch(/out cannot be locked \(.+\): make sure that no other gemel writes there/);
  });
});
