import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Delimiter } from '../../../src/formats/tables/split-rows.ts';
import { LIMITS, splitRows } from '../../../src/formats/tables/split-rows.ts';

const cellsOf = (text: string, delimiter: Delimiter = ','): readonly (readonly string[])[] => splitRows(text, delimiter).rows.map(({ cells }) => cells);

describe('splitting a table into rows', () => {
  it.each([
    ['a,b\nc,d\n', [['a', 'b'], ['c', 'd']]],
    ['a,b\r\nc,d', [['a', 'b'], ['c', 'd']]],
    ['a,b\rc,d\r', [['a', 'b'], ['c', 'd']]],
    ['a,b\n\n  \n,,\nc,d', [['a', 'b'], ['c', 'd']]],
    // RFC 4180, section 2, rules 5 to 7.
    ['"a","b"', [['a', 'b']]],
    ['"a, and b","c"', [['a, and b', 'c']]],
    ['"a\r\nb",c', [['a\nb', 'c']]],
    ['"he said ""cut""",x', [['he said "cut"', 'x']]],
    ['"",x', [['', 'x']]],
    // An inch mark inside a cell is no quotation mark.
    [`12'6",2.8`, [[`12'6"`, '2.8']]],
    ['a , "b" ,c', [['a ', 'b', 'c']]],
  ])('%j', (text, rows) => {
    expect(cellsOf(text)).toEqual(rows);
    expect(splitRows(text, ',').faults).toEqual([]);
  });

  it.each([[';' as const], ['\t' as const]])('with %j between cells, commas are text', (delimiter) => {
    expect(cellsOf(`1,42${delimiter}"x${delimiter}y"`, delimiter)).toEqual([['1,42', `x${delimiter}y`]]);
  });

  it('counts lines through quoted line ends and empty rows', () => {
    expect(splitRows('a\r\n"b\r\n\r\nb"\r\n\r\nc', ',').rows.map(({ line }) => line)).toEqual([1, 2, 6]);
  });

  it('reads the line of an unbalanced quotation mark as it stands, names it, and goes on with the next', () => {
    const { rows, faults } = splitRows('a,b\n1,"two\n3,"four"\n"5",6', ',');
    expect(rows.map(({ line, cells, damaged }) => ({ line, cells, damaged }))).toEqual([
      { line: 1, cells: ['a', 'b'], damaged: false },
      { line: 2, cells: ['1', 'two'], damaged: true },
      { line: 3, cells: ['3', 'four'], damaged: false },
      { line: 4, cells: ['5', '6'], damaged: false },
    ]);
    expect(faults.map(({ line }) => line)).toEqual([2]);
  });

  it('recovers from an inch mark in a quoted cell that was not doubled', () => {
    const { rows, faults } = splitRows(`"12'6"",2.8\n"3 m",4`, ',');
    expect(rows.map(({ cells }) => cells)).toEqual([[`12'6"`, '2.8'], ['3 m', '4']]);
    expect(faults.map(({ line }) => line)).toEqual([1]);
  });

  it('leaves out rows beyond its limits and says so', () => {
    const wide = splitRows(`a\n${','.repeat(LIMITS.columns)}x\nb`, ',');
    expect(wide.rows.map(({ cells }) => cells)).toEqual([['a'], ['b']]);
    expect(wide.faults).toEqual([expect.objectContaining({ line: 2, expected: expect.stringContaining('100000 columns') })]);
    const long = splitRows(`a\n${'x'.repeat(LIMITS.cellCharacters + 1)},y\nb`, ',');
    expect(long.rows.map(({ cells }) => cells)).toEqual([['a'], ['b']]);
    expect(long.faults).toHaveLength(1);
    const tall = splitRows('a\n'.repeat(LIMITS.rows + 5), ',');
    expect(tall.rows).toHaveLength(LIMITS.rows);
    expect(tall.faults).toEqual([expect.objectContaining({ line: LIMITS.rows + 1 })]);
  });

  it('looks at no line again and again in a file full of quotation marks', () => {
    // Looking for each partner to the end of the file would take minutes here.
    expect(splitRows('"a\n'.repeat(100_000), ',').faults).toHaveLength(100_000);
    expect(splitRows(`${'a,"'.repeat(30_000)}\n`, ',').faults).toHaveLength(1);
  });

  // csv-parse is an independent reader of RFC 4180.
  it('reads what a careful writer wrote as csv-parse does', () => {
    const cell = fc.string({ unit: fc.constantFrom('a', '1', ' ', ',', ';', '\t', '"', '\n', "'", 'é'), maxLength: 6 });
    const table = fc.array(fc.array(cell, { minLength: 2, maxLength: 5 }), { minLength: 1, maxLength: 6 });
    fc.assert(fc.property(table, fc.constantFrom<Delimiter>(',', ';', '\t'), fc.constantFrom('\n', '\r\n'), (rows, delimiter, lineEnd) => {
      const text = rows.map((row) => row.map((one) => `"${one.replaceAll('"', '""')}"`).join(delimiter)).join(lineEnd);
      const spoken = (row: readonly string[]): boolean => row.some((one) => one.trim() !== '');
      const outside = parse(text, { delimiter, relax_column_count: true }).map((row: readonly string[]) => [...row]);
      expect(cellsOf(text, delimiter)).toEqual(outside.filter(spoken));
      expect(cellsOf(text, delimiter)).toEqual(rows.filter(spoken));
    }), { numRuns: 500 });
  });

  it('never throws, and never loses a line that has no quotation mark', () => {
    const text = fc.string({ unit: fc.constantFrom('a', ',', '"', '\n', ' ', '\r'), maxLength: 60 });
    fc.assert(fc.property(text, (input) => {
      const { rows } = splitRows(input, ',');
      if (input.includes('"')) return;
      const lines = input.split(/\r\n?|\n/);
      expect(rows.map(({ line }) => line)).toEqual(lines.flatMap((line, at) => (line.replaceAll(',', '').trim() === '' ? [] : [at + 1])));
    }), { numRuns: 1000 });
  });
});
