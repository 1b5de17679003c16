import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { DayPlace } from '../../../src/core/matching/nearby.ts';
import { nearbyFinder, placesApart, shareOfNear } from '../../../src/core/matching/nearby.ts';
import { hasClock } from '../../../src/core/matching/recording-clock.ts';
import { LABELS_24, pass } from '../../support/make-sets.ts';

const place = fc
  .record({
    minute: fc.option(fc.integer({ min: 0, max: 24 * 60 - 1 })),
    date: fc.constantFrom('2026-11-30', '2026-12-01', '2026-12-02', undefined),
    roll: fc.constantFrom('A001', 'A002'),
    number: fc.integer({ min: 1, max: 60 }),
    clockTrusted: fc.boolean(),
  })
  .map(({ minute, date, roll, number, clockTrusted }): DayPlace => {
    const start = minute === null ? {} : { start: { frame: minute * 60 * 24, format: LABELS_24 } };
    const clip = pass({ role: 'swapped', take: 1, over: { roll, clip: `C${number}`, ...start, ...(date === undefined ? {} : { date }) } });
    return { clip, clockTrusted: clockTrusted && hasClock(clip) };
  });

describe('places near by', () => {
  it('are the same as when every place is asked: over midnight, over dates, without a date, by roll', () => {
    let found = 0;
    fc.assert(
      fc.property(fc.array(place, { maxLength: 30 }), place, (places, to) => {
        const near = nearbyFinder(places)(to);
        const asked = places.filter((one) => {
          const apart = placesApart(one, to);
          return apart !== undefined && shareOfNear(apart) <= 1;
        });
        found += asked.length;
        expect(new Set(near.map((one) => one.place))).toEqual(new Set(asked));
        expect(near).toHaveLength(asked.length);
        const shares = near.map(({ apart }) => shareOfNear(apart));
        expect(shares).toEqual(shares.toSorted((a, b) => a - b));
      }),
      { numRuns: 1000, seed: 8 },
    );
    expect(found).toBeGreaterThan(1000);
  });
});
