import { describe, expect, it } from 'vitest';
import { asWritten, stopAsWritten } from '../../../src/core/checks/as-written.ts';
import type { SourceKind } from '../../../src/core/material/statement.ts';

const cell = (raw: string, kind: SourceKind = 'report'): Parameters<typeof asWritten>[1] => ({ raw, source: { kind, file: 'report.csv', place: 'line 2' } });

describe('a value in a finding', () => {
  it.each([
    ['1.422 m', `4'8"`, `4'8" (1.422 m)`],
    ['1.42 m', '142 cm', '142 cm (1.42 m)'],
    ['172.63°', '1/50', '1/50 (172.63°)'],
    ['2.5 m', '2.5m', '2.5 m'],
    ['1.4 m', '1.40', '1.4 m'],
    ['35 mm', '35mm', '35 mm'],
    ['180°', '180', '180°'],
    ['5600 K', '5600K', '5600 K'],
  ])('that counts as %s and was written %s reads %s', (text, raw, expected) => {
    expect(asWritten(text, cell(raw))).toBe(expected);
  });

  it('is what counts where no person wrote it', () => {
    expect(asWritten('1.422 m', cell('0x58E mm', 'embedded'))).toBe('1.422 m');
    expect(asWritten('1.422 m', undefined)).toBe('1.422 m');
    expect(stopAsWritten('T3.17', cell('317/100', 'embedded'))).toBe('T3.17');
  });

  it.each([
    ['3.17', '2.8 1/3', '2.8 1/3'],
    ['T3.17', '2.8 1/3', 'T2.8 1/3'],
    ['T3.17', 'T2.8 1/3', 'T2.8 1/3'],
    ['f/5.6', '5.6', 'f/5.6'],
    ['T4', 'T4', 'T4'],
  ])('that is the stop %s and was written %s reads %s', (text, raw, expected) => {
    expect(stopAsWritten(text, cell(raw))).toBe(expected);
  });
});
