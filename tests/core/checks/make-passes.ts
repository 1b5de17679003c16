import type { OpticsOfPair } from '../../../src/core/checks/pair-optics.ts';
import { opticsOf } from '../../../src/core/checks/pair-optics.ts';
import type { MatchedPasses } from '../../../src/core/checks/passes.ts';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { Tolerances } from '../../../src/core/material/tolerance.ts';
import { makeClip, method } from '../../support/make-clips.ts';
import { SYNCED, checkRules } from '../../support/make-matched.ts';

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

/** What every family of checks is given: the pair, the default tolerances, its optics. */
export function given(passes: MatchedPasses): readonly [MatchedPasses, Tolerances, OpticsOfPair] {
  const { tolerances, sensorModes } = checkRules();
  return [passes, tolerances, opticsOf(passes, tolerances, sensorModes)];
}
