import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseCorrections } from '../../src/config/parse-corrections.ts';
import { parseMapping } from '../../src/config/parse-mapping.ts';
import { parsePipeline } from '../../src/config/parse-pipeline.ts';
import { defaultConfig } from '../support/default-config.ts';

const manual = readFileSync(new URL('../../docs/pipeline.md', import.meta.url), 'utf8');
const examples = new Map([...manual.matchAll(/```yaml\n# (\w+)\n([\s\S]*?)```/g)].map(([, kind, text]) => [kind, text ?? '']));
const defaults = defaultConfig();

describe('the manual of the pipeline file', () => {
  it('shows a pipeline, a mapping and corrections that work', () => {
    expect([...examples.keys()]).toEqual(['pipeline', 'mapping', 'corrections']);
    expect(parsePipeline(examples.get('pipeline') ?? '', 'manual', defaults).tolerances.heightMm).toEqual({ warn: 5, stop: 30 });
    expect(parseMapping(examples.get('mapping') ?? '', 'manual').fields).toHaveLength(2);
    const { corrections, problems } = parseCorrections(examples.get('corrections') ?? '', 'manual');
    expect(problems).toEqual([]);
    expect(corrections.map(({ kind }) => kind)).toEqual(['slate', 'role', 'confirm', 'forbid', 'sync']);
  });

  it.each(Object.entries(defaults.tolerances))('prints the default of the tolerance %s', (name, limit) => {
    const key = name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
    const shown = typeof limit === 'number' ? `\`${key}\` (${limit})` : new RegExp(`\`${key}\` .*\\| ${limit.warn} \\| ${limit.stop} \\|`);
    expect(manual).toMatch(shown);
  });
});
