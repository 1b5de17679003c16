import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_CARD_TEMPLATE, DEFAULT_SHEET_TEMPLATE } from '../../../src/formats/sheet/template.ts';
import { planSheets } from '../../../src/steps/sheet/plan-sheets.ts';
import { safeFileNames } from '../../../src/formats/sheet/safe-file-names.ts';
import { makeJudgedDay } from '../../support/make-judged.ts';
import { shuffledDay } from '../../support/shuffle-day.ts';

const OPTIONS = { show: 'Tidewrack', template: DEFAULT_SHEET_TEMPLATE, cardTemplate: DEFAULT_CARD_TEMPLATE };

describe('the plan of a day of sheets', () => {
  it('has a sheet for every shot, else for the set, and a card for each that lacks a pass, sorted', () => {
    expect(planSheets(makeJudgedDay(), OPTIONS).map(({ file }) => file)).toEqual([
      'sheets/TWR_027_0010.pdf', 'sheets/TWR_027_0020.pdf', 'sheets/31-A.pdf', 'sheets/44A-B.pdf', 'sheets/50C-A.pdf', 'repeat-cards/50C-A.pdf', 'sheets/61-A.pdf',
    ]);
  });

  it('is the same whatever the order of the day', () => {
    const day = makeJudgedDay();
    expect(JSON.stringify(planSheets(shuffledDay(day, 3), OPTIONS))).toBe(JSON.stringify(planSheets(day, OPTIONS)));
  });

  it('asks for no stills when the template shows no pictures', () => {
    const template = { ...DEFAULT_SHEET_TEMPLATE, sections: ['findings'] } as const;
    expect(planSheets(makeJudgedDay(), { ...OPTIONS, template }).flatMap(({ stills }) => stills)).toEqual([]);
  });
});

describe('file names of sheets', () => {
  it('keep plain names, and letters of any script', () => {
    expect(safeFileNames(['27B-A', '214_B.2', 'Сцена-5', 'ήλιος'])).toEqual(['27B-A', '214_B.2', 'Сцена-5', 'ήλιος']);
  });

  it('never leave their folder, hide, or end in a dot', () => {
    for (const name of safeFileNames(['../../etc/passwd', '/abs', '..', '.hidden', '-rf', 'a/b', 'a\\b', 'c:', 'x\u0000y', '$(reboot)', 'name.', 'CON', ''])) {
      expect(name).toMatch(/^[\p{L}\p{N}](?:[\p{L}\p{M}\p{N}._-]*[\p{L}\p{M}\p{N}_-])?$/u);
      expect(name.toLowerCase()).not.toBe('con');
    }
  });

  it('are never alike, on systems that know no case as on others', () => {
    const name = fc.oneof(fc.string({ unit: 'grapheme', maxLength: 12 }), fc.constantFrom('27B-A', '27b-a', 'a/b', 'a_b', 'a?b', 'é', 'e\u0301'));
    fc.assert(
      fc.property(fc.uniqueArray(name, { maxLength: 12 }), (names) => {
        const safe = safeFileNames(names).map((file) => file.normalize('NFC').toLowerCase());
        expect(new Set(safe).size).toBe(names.length);
      }),
    );
  });

  it('do not depend on the order of the sets', () => {
    const names = ['a/b', 'a?b', '27B', '27b'];
    const backwards = safeFileNames(names.toReversed()).toReversed();
    expect(backwards).toEqual(safeFileNames(names));
  });
});
