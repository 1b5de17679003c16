import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../src/core/material/errors.ts';
import { parseCardTemplate, parseSheetTemplate } from '../../../src/formats/sheet/parse-template.ts';
import { DEFAULT_CARD_TEMPLATE, DEFAULT_SHEET_TEMPLATE } from '../../../src/formats/sheet/template.ts';

function problemsOf(text: string, parse: (text: string, from: string) => unknown = parseSheetTemplate): readonly string[] {
  try {
    parse(text, 'mine.yaml');
  } catch (error) {
    if (error instanceof UsageError) return error.problems;
    throw error;
  }
  return [];
}

describe('a sheet template', () => {
  it('comes with gemel saying what it does without one', () => {
    const shipped = (name: string): string => readFileSync(new URL(`../../../templates/${name}`, import.meta.url), 'utf8');
    expect(parseSheetTemplate(shipped('sheet.yaml'), 'sheet.yaml')).toEqual(DEFAULT_SHEET_TEMPLATE);
    expect(parseCardTemplate(shipped('repeat-card.yaml'), 'repeat-card.yaml')).toEqual(DEFAULT_CARD_TEMPLATE);
  });

  it('changes what it names and leaves the rest', () => {
    const template = parseSheetTemplate('paper: Letter\nsections: [coverage, sign-off]\nheadings:\n  coverage: Lang genug?\nanswers:\n  "no": NEIN\n', 'mine.yaml');
    expect(template).toEqual({
      ...DEFAULT_SHEET_TEMPLATE, paper: 'Letter', sections: ['coverage', 'sign-off'], headings: { coverage: 'Lang genug?' }, answers: { yes: 'YES', no: 'NEIN', look: 'LOOK' },
    });
    expect(parseSheetTemplate('', 'mine.yaml')).toEqual(DEFAULT_SHEET_TEMPLATE);
  });

  it('tells every mistake with its line, all at once', () => {
    expect(problemsOf('paper: A3\naccent: blue\nsections:\n  - coverage\n  - covrage\nfont: Arial\nheadings:\n  plates: 3\n')).toEqual([
      'mine.yaml line 1: paper has "A3", expected one of A4, Letter',
      'mine.yaml line 2: accent is "blue", expected a colour such as "#1d4e63" (in quotes)',
      expect.stringMatching(/^mine\.yaml line 5: sections has "covrage", expected one of summary, /),
      expect.stringMatching(/^mine\.yaml line 6: "font" is not part of a template; known: accent, /),
      'mine.yaml line 8: headings, plates: must be a text (put words such as yes and no in quotes)',
    ]);
  });

  it('refuses a section named twice, a list that is none, and text that is no YAML', () => {
    expect(problemsOf('sections: [notes, notes]\n')).toEqual(['mine.yaml line 1: sections names "notes" twice']);
    expect(problemsOf('sections: notes\n')).toEqual(['mine.yaml line 1: sections must be a list']);
    expect(problemsOf('- a\n- b\n')).toEqual(['mine.yaml line 1: a template is a list of "name: value" lines']);
    expect(problemsOf('title: "open\n')[0]).toMatch(/^mine\.yaml line \d+: /);
    expect(problemsOf('answers: {"yes": "Y"}\n', parseCardTemplate)[0]).toMatch(/^mine\.yaml line 1: "answers" is not part of a template/);
  });
});
