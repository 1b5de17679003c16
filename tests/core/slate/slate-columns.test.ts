import { describe, expect, it } from 'vitest';
import { slateFromName } from '../../../src/core/slate/name-slate.ts';
import { isSlate } from '../../../src/core/slate/parse-slate.ts';
import { setUpKey } from '../../../src/core/slate/slate.ts';
import type { SlateColumns } from '../../../src/core/slate/slate-columns.ts';
import { slateFromColumns } from '../../../src/core/slate/slate-columns.ts';
import { SLATE_GRAMMAR } from '../../support/make-clips.ts';

function keyAndTake(columns: SlateColumns): string {
  const found = slateFromColumns(columns, SLATE_GRAMMAR);
  if (found === undefined) return 'none';
  return isSlate(found) ? `${setUpKey(found)} take ${found.take ?? '-'}` : found.reason;
}

describe('slates from separate columns', () => {
  it.each<[SlateColumns, string]>([
    [{ slate: '27B-3' }, '27B take 3'],
    [{ slate: '27B', take: '3' }, '27B take 3'],
    [{ slate: 'B', scene: '27', take: '3' }, '27B take 3'],
    [{ slate: '214', scene: '27', take: '3' }, '214 take 3'],
    [{ scene: '27B', take: '003' }, '27B take 3'],
    [{ scene: '27', setup: 'B', take: '3' }, '27B take 3'],
    [{ scene: '27', setup: '27B', take: '3' }, '27B take 3'],
    [{ scene: '27B', setup: 'B', take: '3' }, '27B take 3'],
    [{ scene: '12.5', setup: 'B', take: '1' }, '12.5B take 1'],
    [{ scene: '12.5', take: '1' }, '12.5 take 1'],
    [{ scene: '27', setup: '2', take: '1' }, '27-2 take 1'],
    [{ scene: '27', take: '1' }, '27 take 1'],
    [{ setup: '27B', take: '1' }, '27B take 1'],
    [{ take: '1' }, 'none'],
    [{}, 'none'],
    [{ slate: '27B-3', take: '4' }, 'the slate says take 3, the take column 4'],
    [{ slate: '27B', take: 'wild' }, '"wild" is no take'],
  ])('reads %j as %s', (columns, expected) => {
    expect(keyAndTake(columns)).toBe(expected);
  });

  it('keeps a pick-up that only the take column names', () => {
    expect(slateFromColumns({ scene: '27B', take: '3 PU' }, SLATE_GRAMMAR)).toMatchObject({ take: 3, pickUp: true });
  });

  it('takes a number in a scene column for a scene', () => {
    expect(slateFromColumns({ scene: '27', take: '1' }, SLATE_GRAMMAR)).toMatchObject({ scene: '27', setUp: '' });
  });
});

describe('slates from file and folder names', () => {
  it.each([
    ['27B-3_lead/frames.####.exr', '27B', 3],
    ['day01/27B_3_swapped.mov', '27B', 3],
    ['day01/27B/A003C012_261125_R7QK.mov', '27B', undefined],
    ['27B_CP/A003C012.mov', '27B', undefined],
    ['slate214_take2.mov', '214', 2],
    ['VFX27B-2/plate.####.dpx', 'VFX27B', 2],
  ] as const)('reads %s', (file, key, take) => {
    const found = slateFromName(file, SLATE_GRAMMAR);
    expect(found === undefined ? undefined : [setUpKey(found.slate), found.slate.take]).toEqual([key, take]);
  });

  it.each([
    'A003C012_261125_R7QK.mov',
    'A001_C066_0303LZ_001.mov',
    'day03/card01/A003/C012.mov',
    '2026-11-25/A003C012.mov',
    '20261125/4K/clip.mov',
    '25P/clip.mov',
    '01_A/clip.mov',
    '25NOV/clip.mov',
    '214/clip.mov',
    'IMG_0001.mov',
  ])('takes no slate from %s', (file) => {
    expect(slateFromName(file, SLATE_GRAMMAR)).toBeUndefined();
  });
});
