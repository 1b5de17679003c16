import { describe, expect, it } from 'vitest';
import type { Clip } from '../../../src/core/material/clip.ts';
import { leadsByPlainSlate } from '../../../src/core/matching/group-plain-slates.ts';
import { makeClip, slate } from '../../support/make-clips.ts';

function slated(setUp: string, suffix = '') {
  return slate(setUp, 1, suffix === '' ? {} : { suffix, text: `${setUp}-${suffix}-1` });
}

function clip(name: string, over: Partial<Clip>): Clip {
  return makeClip(`${name}.mov`, { role: 'unknown', ...over });
}

const silent = clip('A014C006', { slate: slated('31A') });
const suffixed = clip('A014C007', { slate: slated('31A', 'SW'), role: 'swapped' });
const roles = (clips: readonly Clip[]): readonly string[] => clips.map(({ role }) => role);

// How crews slate passes is common practice, no source.
describe('the lead by its plain slate', () => {
  it('is the clip without a suffix where the swapped pass has one, and says why', () => {
    const [lead] = leadsByPlainSlate([silent, suffixed], '31A');
    expect(lead?.role).toBe('lead');
    expect(lead?.roleConfidence).toBeGreaterThan(0.5);
    expect(lead?.roleEvidence[0]?.words).toBe('slated 31A without a mark, where 31A-SW-1 is marked: the lead pass');
  });

  it('is the clip of the set-up for which another set-up is slated', () => {
    const own = clip('A015C002', { slate: slated('31D'), forSlate: slated('31A'), role: 'swapped' });
    expect(roles(leadsByPlainSlate([silent, own], '31A'))).toEqual(['lead', 'swapped']);
  });

  it('is not told by a clean plate alone: lead and swapped pass may both run on under the plain slate', () => {
    const clean = clip('A014C008', { slate: slated('31A', 'CP'), role: 'clean' });
    expect(roles(leadsByPlainSlate([silent, clean], '31A'))).toEqual(['unknown', 'clean']);
  });

  it('is not told where a swapped pass runs on under the plain slate too', () => {
    const plain = clip('A014C009', { slate: slated('31A'), role: 'swapped' });
    expect(roles(leadsByPlainSlate([silent, suffixed, plain], '31A'))).toEqual(['unknown', 'swapped', 'swapped']);
  });

  it('leaves alone what anything else speaks of, and sets that name their lead', () => {
    const named = clip('A014C005', { slate: slated('31A'), role: 'lead', roleEvidence: [{ role: 'lead', kind: 'log', weight: 0.95, words: 'log' }] });
    expect(roles(leadsByPlainSlate([named, silent, suffixed], '31A'))).toEqual(['lead', 'unknown', 'swapped']);
  });
});
