import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { namesLead } from '../../../src/core/coverage/shot-of-lead.ts';
import { rowFinder } from '../../../src/core/matching/rows-by-lead.ts';
import { makeClip, slate } from '../../support/make-clips.ts';

const SLATES = ['27B', '27b', '27 B', '27B-3', '27B take 3', 'Slate 214', '214', '214-2', '2142', '27-2', '272', 'VFX27B', '27C', ''];
const row = fc.record(
  { slate: fc.constantFrom(...SLATES), take: fc.constantFrom(2, 3), camera: fc.constantFrom('A', 'B') },
  { requiredKeys: ['slate'] },
);
const clip = fc
  .record({ setUp: fc.constantFrom('27B', '27C', '214'), take: fc.option(fc.constantFrom(2, 3), { nil: undefined }), prefix: fc.constantFrom('', 'VFX') })
  .map(({ setUp, take, prefix }) => makeClip('a.mov', { slate: slate(setUp, take, { prefix }) }));

describe('rows by slate', () => {
  it('are the same as when every row is asked, in the same order', () => {
    fc.assert(
      fc.property(fc.array(row, { maxLength: 20 }), clip, (rows, lead) => {
        expect(rowFinder(rows)(lead)).toEqual(rows.filter((one) => namesLead(one, lead)));
      }),
      { numRuns: 500, seed: 6 },
    );
  });

  it('are found at all', () => {
    const rows = [{ slate: '27C' }, { slate: '27B take 3' }, { slate: '27b', take: 3 }];
    expect(rowFinder(rows)(makeClip('a.mov', { slate: slate('27B', 3) }))).toEqual(rows.slice(1));
  });
});
