import type { MatchedPasses } from '../../../src/core/checks/passes.ts';
import type { Clip } from '../../../src/core/material/clip.ts';
import { makeClip, method } from '../../support/make-clips.ts';
import { SYNCED } from '../../support/make-matched.ts';

/** Lead A and swapped pass B with nothing on record but what is given. */
export function passesOf(lead: Partial<Clip>, pass: Partial<Clip>, over: Partial<MatchedPasses> = {}): MatchedPasses {
  return {
    lead: makeClip('A.mov', lead),
    pass: makeClip('B.mov', { role: 'swapped', ...pass }),
    role: 'swapped',
    sync: SYNCED,
    method: method('split'),
    frames: { start: 0, end: 240 },
    ...over,
  };
}
