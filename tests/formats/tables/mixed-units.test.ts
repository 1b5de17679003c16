import { describe, expect, it } from 'vitest';
import { isDistance, settleUnits } from '../../../src/formats/tables/mixed-units.ts';

const settled = (...raws: readonly string[]): ReturnType<typeof settleUnits> => settleUnits('report.csv', raws.map((raw, index) => ({ line: index + 2, heading: 'Height', raw, block: raws.slice(0, index).filter((one) => one === '|').length })));
const units = (...raws: readonly string[]): readonly string[] => [...settled(...raws).taken].map(([line, { unit }]) => `${line}: ${unit}`);
const found = (...raws: readonly string[]): readonly string[] => settled(...raws).problems.map(({ severity, place, found: what }) => `${severity}: ${place}: ${what}`);

describe('the units of a column', () => {
  it.each([[['1.42', '1.5 m', '']], [[`4'8"`, `5'`]], [['142 cm', '1.42 m']], [['1.42', '1m42']], [['0', '142 cm']], [['floor', '1.4']]])('%j can be told', (raws) => {
    expect(found(...raws)).toEqual([]);
  });

  it.each([
    [['140cm', '141', '140cm'], ['3: cm']],
    [['1.2 m', '1.40'], ['3: m']],
    [[`4'8"`, '5.5', '5.6'], ['3: ft', '4: ft']],
    [['56 in', '55'], ['3: in']],
    [['1400 mm', '1410'], ['3: mm']],
    // Nothing has a unit: nothing is settled here.
    [['141', '140'], []],
  ])('%j give a bare number theirs, said as assumed', (raws, expected) => {
    expect([units(...raws), found(...raws)]).toEqual([expected, []]);
    for (const { assumed } of settled(...raws).taken.values()) expect(assumed).toMatch(/^no unit is written: taken as \w+, as beside it in the column$/);
  });

  it('are those of the block, where the column has several', () => {
    expect([units(`4'8"`, '4.5', '|', '1.2 m', '1.40'), found(`4'8"`, '4.5', '|', '1.2 m', '1.40')]).toEqual([['3: ft', '6: m'], []]);
  });

  it('are a question when theirs makes no such distance, or when there are several', () => {
    expect(found(`4'8"`, '1.42', '1.43')).toEqual([`warn: line 3, column "Height": "1.42" and 1 more without a unit, beside "4'8"" in line 2`]);
    expect(found('9', '142 cm')).toEqual(['warn: line 2, column "Height": "9", beside "142 cm" in line 3']);
    expect(found('1.5 m', `4'8"`, '1.4')).toEqual([`warn: line 4, column "Height": "1.4", beside "4'8"" in line 3`]);
    expect(units(`4'8"`, '1.42', '1.43')).toEqual(['3: m', '4: m']);
  });

  it('are left to the cell where none fits', () => {
    expect([units('1.4 m', '141'), found('1.4 m', '141')]).toEqual([[], []]);
  });

  it('are no question of a lens, which is engraved in millimetres', () => {
    expect([isDistance('focalLength'), isDistance('focusDistance')]).toEqual([false, true]);
  });
});
