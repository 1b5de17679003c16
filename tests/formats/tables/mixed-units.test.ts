import { describe, expect, it } from 'vitest';
import { checkUnits } from '../../../src/formats/tables/mixed-units.ts';

const cells = (...raws: readonly string[]): Parameters<typeof checkUnits>[2] => raws.map((raw, index) => ({ line: index + 2, heading: 'Height', raw }));
const found = (...raws: readonly string[]): readonly string[] => checkUnits('report.csv', 'cameraHeight', cells(...raws)).map(({ severity, place, found: what }) => `${severity}: ${place}: ${what}`);

describe('the units of a column', () => {
  it.each([[['1.42', '1.5 m', '']], [[`4'8"`, `5'`]], [['142 cm', '1.42 m']], [['1.42', '1m42']], [['0', '142 cm']], [['floor', '1.4']]])('%j can be told', (raws) => {
    expect(found(...raws)).toEqual([]);
  });

  it('are a question when a bare number stands among feet or centimetres', () => {
    expect(found(`4'8"`, '5.5', '5.6')).toEqual([`warn: line 3, column "Height": "5.5" and 1 more without a unit, beside "4'8"" in line 2`]);
    expect(found('9', '142 cm')).toEqual(['warn: line 2, column "Height": "9", beside "142 cm" in line 3']);
  });

  it('are no question of a lens, which is engraved in millimetres', () => {
    expect(checkUnits('report.csv', 'focalLength', cells('35', '1.4 in'))).toEqual([]);
  });
});
