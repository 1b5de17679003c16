import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FIELDS } from '../../../src/core/material/heading.ts';
import { readField } from '../../../src/formats/values/field.ts';
import { readHeading } from '../../../src/formats/values/heading-unit.ts';
import type { CellUnit } from '../../../src/formats/values/unit.ts';
import { READINGS, rewriteCoded } from '../../../src/formats/sidecars/readings.ts';

const anyText = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 40 }),
  // Text of the letters cells are made of comes nearer to the readers' edges.
  fc.string({ unit: fc.constantFrom(...`0123456789.,'"/ -+°:;x*%TtfFkKmMsSinfdND∞½ppDF¼`.split('')), maxLength: 16 }),
);
const anyUnit = fc.constantFrom<CellUnit | undefined>(undefined, 'mm', 'cm', 'm', 'in', 'ft', 'deg', 'K', 's', 'ms', '1/s', '%', 'T', 'f', 'nd');

/** Every number within a value. */
function numbersIn(value: unknown): readonly number[] {
  if (typeof value === 'number') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbersIn) : [];
}

describe('every reader of a cell', () => {
  it.each(FIELDS.map((field) => [field]))('of %s never throws and never makes NaN or minus zero', (field) => {
    fc.assert(fc.property(anyText, anyUnit, (text, unit) => {
      const reading = readField(field, text, unit);
      if (reading.kind !== 'value') return;
      for (const number of numbersIn(reading.value)) {
        expect(number).not.toBeNaN();
        expect(Object.is(number, -0)).toBe(false);
        if (field !== 'focusDistance') expect(number).not.toBe(Infinity);
      }
    }), { numRuns: 200 });
  });

  it('of a coded value never throws and never writes NaN', () => {
    fc.assert(fc.property(fc.constantFrom(...Object.keys(READINGS)), anyText, anyText, (reading, text, companion) => {
      const rewritten = rewriteCoded(text, reading, companion);
      if ('text' in rewritten && !text.includes('NaN') && !companion.includes('NaN')) expect(rewritten.text).not.toMatch(/NaN|Infinity|undefined/);
    }), { numRuns: 1500 });
  });

  it('of a heading never throws, not even for names every object has', () => {
    fc.assert(fc.property(fc.oneof(anyText, fc.constantFrom('constructor', '__proto__', 'toString', 'valueOf (mm)')), (heading) => {
      expect(readHeading(heading, {}).field).toBeUndefined();
    }));
  });
});
