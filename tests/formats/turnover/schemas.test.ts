import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, it } from 'vitest';
import { planTurnover } from '../../../src/steps/turnover/plan-turnover.ts';
import { turnoverDay, turnoverOptions } from '../../support/make-turnover.ts';

function published(name: string): (value: unknown) => readonly string[] {
  const schema: object = JSON.parse(readFileSync(new URL(`../../../docs/${name}.schema.json`, import.meta.url), 'utf8'));
  const validate = new Ajv2020({ strict: false, allErrors: true }).compile(schema);
  return (value) => (validate(value) ? [] : (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message ?? ''}`));
}

it('what a package says of itself is as the published schemas say, by a validator of their standard', () => {
  const day = turnoverDay({ cut: [3, 96] }, { cut: [48, 96] });
  const { turnover, shots } = planTurnover(day, turnoverOptions(day, { pictures: 'exr', movies: true }));
  expect(published('turnover')(turnover)).toEqual([]);
  for (const { file } of shots) expect(published('shot')(file)).toEqual([]);
  expect(published('shot')({ ...shots[0]?.file, revision: 0 })).not.toEqual([]);
});
