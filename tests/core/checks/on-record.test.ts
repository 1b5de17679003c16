import { describe, expect, it } from 'vitest';
import { checkDay } from '../../../src/steps/check/check-day.ts';
import type { Clip } from '../../../src/core/material/clip.ts';
import { checkRules, chosen, makeFullClip, makeMatchedDay, makeSet } from '../../support/make-matched.ts';

const NOTHING: Partial<Clip> = { lens: {} };

function judged(over: { readonly lead?: Partial<Clip>; readonly swapped?: Partial<Clip>; readonly clean?: Partial<Clip> }, rules = checkRules(), movingCamera = false) {
  const clips = [makeFullClip(1, 'lead', over.lead), makeFullClip(2, 'swapped', over.swapped), makeFullClip(3, 'clean', { frames: 240, ...over.clean })];
  const set = checkDay(makeMatchedDay([makeSet({ clips, method: { movingCamera } })]), rules).sets[0];
  return { verdict: set?.verdict, found: set?.findings.filter(({ code }) => code === 'not-on-record').map(({ severity, subject }) => [severity, subject.length]) };
}

describe('a pass of which nothing of the lens is on record', () => {
  it('must be looked at: nobody can say the lens is the same', () => {
    expect(judged({ swapped: NOTHING })).toEqual({ verdict: 'look', found: [['warn', 1]] });
    expect(judged({ lead: NOTHING, swapped: NOTHING })).toEqual({ verdict: 'look', found: [['warn', 2]] });
  });

  it('is none when any one thing of it is told', () => {
    for (const lens of [{ model: chosen('Calder Prime 35') }, { serial: chosen('CP-3507') }, { focalLengthMm: chosen(35) }, { focusDistanceM: chosen(3) }]) {
      expect(judged({ swapped: { lens } }).found).toEqual([]);
    }
  });

  it('may be a clean plate only where the camera moves', () => {
    expect(judged({ clean: NOTHING }).found).toEqual([]);
    expect(judged({ clean: NOTHING }, checkRules(), true).found).toEqual([['warn', 1]]);
  });

  it('is a note where the pipeline says so', () => {
    expect(judged({ swapped: NOTHING }, { ...checkRules(), notOnRecord: 'note' })).toEqual({ verdict: 'yes', found: [['note', 1]] });
  });
});
