import { describe, expect, it } from 'vitest';
import { READINGS } from '../../../src/formats/sidecars/readings.ts';
import { unitOfWord } from '../../../src/formats/values/unit.ts';
import { defaultConfig } from '../../support/default-config.ts';

describe('the mappings gemel ships with', () => {
  const { mappings } = defaultConfig();

  it('name only readings and units that exist', () => {
    const fields = mappings.flatMap((mapping) => mapping.fields);
    expect(fields.length).toBeGreaterThan(50);
    expect(fields.flatMap(({ reading }) => (reading === undefined || Object.hasOwn(READINGS, reading) ? [] : [reading]))).toEqual([]);
    expect(fields.flatMap(({ unit }) => (unit === undefined || unitOfWord(unit) !== undefined ? [] : [unit]))).toEqual([]);
  });

  it('use every reading there is', () => {
    const used = new Set(mappings.flatMap((mapping) => mapping.fields.map(({ reading }) => reading)));
    expect(Object.keys(READINGS).filter((reading) => !used.has(reading))).toEqual([]);
  });

  it('say when they apply, so that none is tried on another maker’s file', () => {
    expect(mappings.filter(({ root }) => root === undefined).map(({ name }) => name)).toEqual([]);
  });
});
