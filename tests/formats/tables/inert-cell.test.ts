import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { formatCsv, inertCell } from '../../../src/formats/tables/inert-cell.ts';

// The characters that start a formula: OWASP, "CSV Injection".
describe('cells that a spreadsheet would run', () => {
  it.each([
    ['=HYPERLINK("http://x")', `'=HYPERLINK("http://x")`],
    ['+1+1', `'+1+1`],
    ['-2+3', `'-2+3`],
    ['@SUM(A1)', `'@SUM(A1)`],
    ['\t=1', `'\t'=1`],
    ['\r=1', `'\r'=1`],
    ['  =1+1', `  '=1+1`],
    ['＝1+1', `'＝1+1`],
    ['27B;=1+1;x', `27B;'=1+1;x`],
  ])('are made inert: %j', (text, expected) => {
    expect(inertCell(text)).toBe(expected);
  });

  it.each(['-12', '+4', '1001', '3.5', 'A014C001.mov', '14:02:10:00', 'T2.8, -3°', ''])('leave %j as it is', (text) => {
    expect(inertCell(text)).toBe(text);
  });

  it('never begin with what starts a formula, whatever was in them', () => {
    const nasty = fc.string({ unit: fc.constantFrom('=', '+', '-', '@', '\t', '\r', '\n', ' ', ';', '"', ',', 'a', '1') });
    fc.assert(fc.property(nasty, (text) => {
      const parts = inertCell(text).split(/[;\t\r\n]/);
      return /^[+-]?\d+$/.test(text) || parts.every((part) => !/^\s*[=+\-@]/.test(part));
    }));
  });
});

describe('a CSV file', () => {
  it('is read back cell by cell, quotes, commas and line ends in cells included', () => {
    const cell = fc.string({ unit: fc.constantFrom('a', '"', ',', '\n', '\r\n', ';', ' ', 'é') }).map((text) => `x${text}`);
    fc.assert(fc.property(fc.array(fc.array(cell, { minLength: 2, maxLength: 2 }), { minLength: 1, maxLength: 5 }), (rows) => {
      expect(parse(formatCsv(rows), { recordDelimiter: '\r\n' })).toEqual(rows);
    }));
  });

  it('ends each line with CR LF, as RFC 4180 has it', () => {
    expect(formatCsv([['shot', 'frames'], ['TWR_010', '96']])).toBe('shot,frames\r\nTWR_010,96\r\n');
  });
});
