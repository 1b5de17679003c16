import { describe, expect, it } from 'vitest';
import type { Role } from '../../../src/core/material/clip.ts';
import { guessByOrder } from '../../../src/core/matching/group-order-roles.ts';
import { makeClip, method } from '../../support/make-clips.ts';

const LETTERS: Readonly<Record<string, Role>> = { L: 'lead', S: 'swapped', C: 'clean', R: 'reference', '?': 'unknown' };

/** Roles as letters, "?" for a clip of which nobody says anything. */
function guess(written: string, required: readonly Role[] = ['lead', 'swapped', 'clean']): string {
  const clips = written.split('').map((letter, place) => makeClip(`A003C00${place}.mov`, { role: LETTERS[letter] ?? 'unknown' }));
  const guessed = guessByOrder(clips, method('split', { required }), '27B');
  return guessed.map(({ role }) => (role === 'unknown' ? '?' : role.charAt(0).toUpperCase())).join('');
}

// Lead first, then swapped, then clean: common practice, no source.
describe('roles by shooting order', () => {
  it.each([
    ['???', 'LSC'],
    ['??', 'LS'],
    ['?', 'L'],
    ['????', 'L???'],
    ['L?C', 'LSC'],
    ['L??', 'LSC'],
    ['L?', 'L?'],
    ['L???', 'L???'],
    ['L??C', 'L??C'],
    ['?SC', 'LSC'],
    ['??SC', 'LLSC'],
    ['?C', 'LC'],
    ['L?L', 'LLL'],
    ['LS?SC', 'LSSSC'],
    ['LSC?', 'LSC?'],
    ['R???R', 'RLSCR'],
    ['?R??', 'LRSC'],
    ['LSC', 'LSC'],
  ])('make %s to %s', (before, after) => {
    expect(guess(before)).toBe(after);
  });

  it('know only the passes the method asks for', () => {
    expect(guess('??', ['lead', 'clean', 'element'])).toBe('LC');
  });

  it('leave alone what several sources contradict each other on', () => {
    const torn = makeClip('b.mov', { role: 'unknown', roleEvidence: [{ role: 'lead', kind: 'log', weight: 0.95, words: 'x' }, { role: 'swapped', kind: 'log', weight: 0.95, words: 'y' }] });
    const clips = [makeClip('a.mov', { role: 'lead' }), torn, makeClip('c.mov', { role: 'clean' })];
    expect(guessByOrder(clips, method('split'), '27B')[1]).toBe(torn);
  });

  it('say that they are a guess', () => {
    const [first] = guessByOrder([makeClip('a.mov', { role: 'unknown' })], method('split'), '27B');
    expect(first?.roleConfidence).toBeLessThan(0.5);
    expect(first?.roleEvidence).toEqual([{ role: 'lead', kind: 'order', weight: 0.3, words: 'nobody says what it is: by shooting order (clip 1 of 1 of 27B) it would be the lead pass' }]);
  });
});
