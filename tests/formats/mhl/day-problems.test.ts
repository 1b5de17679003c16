import { describe, expect, it } from 'vitest';
import type { ReadClip } from '../../../src/core/material/clip.ts';
import type { ReadingProblem } from '../../../src/core/material/finding.ts';
import { withHashProblems } from '../../../src/formats/mhl/day-problems.ts';

const clip = (file: string, kind: ReadClip['kind']): ReadClip => ({ file, kind, statements: [], tracks: [], complete: true, completeness: '', sizeBytes: 1, decodable: true, problems: [], usable: true });
const missing = (file: string): ReadingProblem => ({ code: 'file-missing', severity: 'stop', file, place: '', found: 'not there', expected: 'the file (generation 1)', remedy: 'get it again' });
const day = { clips: [clip('A014/A014C001.mov', 'movie'), clip('stills/A016C003.####.png', 'sequence'), clip('stills/B016C003.####.png', 'sequence')], notes: [], shots: [], marks: [], problems: [] };

describe('what hash lists tell of a day', () => {
  it('goes to the day, and to the clip a file belongs to', () => {
    const { clips, problems } = withHashProblems(day, [missing('A014/A014C001.mov'), missing('stills/A016C003.1004.png'), missing('reports/log.csv')]);
    expect(problems.map(({ file }) => file)).toEqual(['A014/A014C001.mov', 'stills/A016C003.1004.png', 'reports/log.csv']);
    expect(clips.map(({ problems: own }) => own.map(({ place, found }) => `${place} ${found}`.trim()))).toEqual([['not there'], ['A016C003.1004.png A016C003.1004.png not there'], []]);
  });

  it('counts and names many files of one place with one fault instead of telling each', () => {
    const gone = Array.from({ length: 50 }, (_, index) => missing(`stills/A016C003.${1001 + index}.png`));
    const { clips, problems } = withHashProblems(day, [...gone, missing('reports/log.csv')]);
    expect(problems).toHaveLength(2);
    expect(problems[0]).toMatchObject({ file: 'stills', found: expect.stringMatching(/^50 files: A016C003\.1001\.png, .*A016C003\.1040\.png and 10 more$/), expected: 'the files on record' });
    expect(clips[1]?.problems).toHaveLength(1);
  });

  it('leaves a day alone of which they tell nothing', () => {
    expect(withHashProblems(day, [])).toBe(day);
  });
});
