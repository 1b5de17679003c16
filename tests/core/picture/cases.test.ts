import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { outsideProgram } from '../../support/outside.ts';
import type { Outcome, PictureCase } from '../../support/picture-case.ts';
import { outcomeOf } from '../../support/picture-case.ts';
import { measuringCases } from '../../support/picture-cases.ts';
import { materialCases } from '../../support/plate-cases.ts';

const page = readFileSync(new URL('../../../docs/picture.md', import.meta.url), 'utf8');
const cases = [...measuringCases(), ...materialCases()];
const bySubject = new Map<string, PictureCase[]>();
for (const one of cases) bySubject.set(one.subject, [...(bySubject.get(one.subject) ?? []), one]);

/** Every fourth case of a subject; all of them with PICTURE_CASES=all. */
const every = process.env['PICTURE_CASES'] === 'all';

// The photographs among the backdrops are decoded by ffmpeg.
describe.skipIf(!outsideProgram('ffmpeg'))('scenes with known truth', () => {
  for (const [subject, whole] of bySubject) {
    const group = whole.filter((_, index) => every || index % 4 === 0);
    const outcomes = new Map<Outcome, number>();
    describe(subject, () => {
      it.each(group.map((one) => [one.name, one] as const))('answers rightly: %s', (_, one) => {
        const answer = one.run();
        const outcome = outcomeOf(one, answer);
        outcomes.set(outcome, (outcomes.get(outcome) ?? 0) + 1);
        expect(outcome, `${answer.kind} ${answer.error ?? ''} ${answer.words}`).toBe('right');
      });

      it('stands in the table of the docs with as many right answers', () => {
        // Every answer that was tried is right, so the table's count of right answers is that of its cases.
        expect(outcomes.get('right') ?? 0).toBe(group.length);
        expect(page).toContain(`| ${subject} | ${whole.length} | ${whole.length} | `);
      });
    });
  }
});
