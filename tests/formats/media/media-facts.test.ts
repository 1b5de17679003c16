import { describe, expect, it } from 'vitest';
import type { Condition } from '../../../src/formats/media/media-facts.ts';
import { doubtful, found, mediaFacts, problemsOf, statementsOf } from '../../../src/formats/media/media-facts.ts';

const completeness = { condition: 'whole', complete: true, why: 'it is' } as const;

describe('media facts', () => {
  it('become statements of the file itself, each with its place', () => {
    const facts = mediaFacts({ container: 'mov', completeness, values: [found('frames', 48, '48', 'video track'), found('reel', 'A003', 'A003', 'tmcd track')] });
    expect(statementsOf(facts, 'day03/a.mov')).toEqual([
      { field: 'frames', value: 48, raw: '48', source: { kind: 'embedded', file: 'day03/a.mov', place: 'video track' } },
      { field: 'reel', value: 'A003', raw: 'A003', source: { kind: 'embedded', file: 'day03/a.mov', place: 'tmcd track' } },
    ]);
    expect(facts).toMatchObject({ frames: 48, reel: 'A003' });
  });

  it('hold no value that says "unknown"', () => {
    const facts = mediaFacts({ container: 'mov', completeness, values: [found('reel', '--', '--', 'tmcd track'), found('cameraModel', 'n.a.', 'n.a.', 'moov')] });
    expect(facts.values).toEqual([]);
    expect('reel' in facts).toBe(false);
  });

  it.each<[Condition, string | undefined]>([
    ['whole', undefined], ['unverified', undefined], ['truncated', 'truncated-clip'], ['open', 'still-growing'], ['empty', 'unreadable-clip'], ['unreadable', 'unreadable-clip'],
  ])('that are %s raise %s', (condition, code) => {
    const facts = mediaFacts({ container: 'mov', completeness: { condition, complete: null, why: 'so it is' }, values: [], problems: [doubtful('tmcd track', 'nothing', 'something')] });
    expect(problemsOf(facts, 'a.mov').map((problem) => [problem.code, problem.file])).toEqual([...(code === undefined ? [] : [[code, 'a.mov']]), ['unreadable-value', 'a.mov']]);
  });
});
