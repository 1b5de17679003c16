import { describe, expect, it } from 'vitest';
import type { NeededRange } from '../../../src/core/coverage/coverage.ts';
import type { Role } from '../../../src/core/material/clip.ts';
import { coverageTerm } from '../../../src/core/matching/coverage-term.ts';
import { method } from '../../support/make-clips.ts';
import { pass } from '../../support/make-sets.ts';

const LEAD = pass({ role: 'lead', take: 1 });

/** Frames 100 to 200 of the lead, 8 frames of handles. */
const CUT: NeededRange = { lead: LEAD.id, shot: 'TW_010', basis: 'shot-list', cut: { start: 100, end: 200 }, handles: { head: 8, tail: 8 }, from: '' };
const WHOLE: NeededRange = { lead: LEAD.id, basis: 'lead-take', cut: { start: 0, end: 240 }, handles: { head: 0, tail: 0 }, from: '' };

interface Case {
  readonly frames: number | undefined;
  readonly role?: Role;
  readonly needed?: readonly NeededRange[];
  readonly offset?: number;
  readonly movingCamera?: boolean;
}

function termOf({ frames, role = 'swapped', needed = [CUT], offset = 0, movingCamera = false }: Case) {
  const { frames: _frames, ...lengthless } = pass({ role, take: 2 });
  const clip = frames === undefined ? lengthless : { ...lengthless, frames };
  const sync = { method: 'assumed' as const, offset, confidence: 0.2, words: '' };
  return coverageTerm({ lead: LEAD, clip, role }, sync, { needed, method: method('split', { movingCamera }), minCleanFrames: 24 });
}

describe('what coverage costs', () => {
  it.each([
    ['nothing when cut and handles are held', { frames: 208 }, 0, 'covers all that is needed'],
    ['a fraction when handles are missing: 4 of 16', { frames: 204 }, 0.0625, '4 frames of the handles not covered'],
    ['ten and more when frames of the cut are missing: 50 of 100', { frames: 150 }, 11, '50 frames of the cut range of TW_010 not covered'],
    ['twelve when the cut is not there at all', { frames: 240, offset: 400 }, 12, '100 frames of the cut range of TW_010 not covered'],
    ['by the sync: a pass that starts 30 frames late', { frames: 240, offset: -130 }, 10.6, '30 frames of the cut range of TW_010 not covered'],
    ['in proportion where no cut is known', { frames: 180, needed: [WHOLE] }, 1, '60 frames of the lead take not covered; no cut known'],
    ['the worst of two shots', { frames: 150, needed: [WHOLE, CUT] }, 11, '50 frames of the cut range of TW_010 not covered'],
    ['nothing for a locked-off clean plate of 24 frames', { frames: 24, role: 'clean' as const }, 0, 'covers all that is needed'],
    ['ten and more for one of 12', { frames: 12, role: 'clean' as const }, 11, '12 frames, and a clean plate needs 24'],
    ['the range for a clean plate of a moving camera', { frames: 150, role: 'clean' as const, movingCamera: true }, 11, '50 frames of the cut range of TW_010 not covered'],
    ['a tenth when nobody knows the length', { frames: undefined }, 0.1, 'its length is not known'],
  ] satisfies [string, Case, number, string][])('%s', (_name, facts, cost, words) => {
    const term = termOf(facts);
    expect(term?.words).toBe(words);
    expect(term?.cost).toBeCloseTo(cost, 9);
  });

  it('is not asked of a reference, nor where nothing is known to be needed', () => {
    expect(termOf({ frames: 1, role: 'reference' })).toBeUndefined();
    expect(termOf({ frames: 1, needed: [] })).toBeUndefined();
  });
});
