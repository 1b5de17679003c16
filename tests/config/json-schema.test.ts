import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { pipelineJsonSchema } from '../../src/config/written.ts';

const read = (name: string): string => readFileSync(new URL(`../../${name}`, import.meta.url), 'utf8');
const validate = new Ajv2020().compile(pipelineJsonSchema());

describe('the JSON Schema of a pipeline file', () => {
  it.each(['pipelines/default.yaml', 'pipelines/example.yaml'])('takes %s', (file) => {
    expect(validate(parse(read(file))), JSON.stringify(validate.errors)).toBe(true);
  });

  it.each([['handels: {}'], ['paper: A3'], ['handles: { head: 1.5 }'], ['methods: { Split: {} }'], ['tolerances: { tilt: 3 }']])('refuses %s', (text) => {
    expect(validate(parse(text))).toBe(false);
  });

  it('has a word on every key in the manual', () => {
    const manual = read('docs/pipeline.md');
    const keys: string[] = [];
    JSON.stringify(pipelineJsonSchema(), (_, value: unknown) => {
      if (typeof value === 'object' && value !== null && 'properties' in value) keys.push(...Object.keys(value.properties ?? {}));
      return value;
    });
    expect(keys.length).toBeGreaterThan(70);
    expect([...new Set(keys)].filter((key) => !manual.includes(`\`${key}\``))).toEqual([]);
  });
});
