import { describe, expect, it } from 'vitest';
import { plannedStills, stillGroups } from '../../../src/formats/sheet/stills.ts';
import { ambiguousMoco, brokenSplit, headReplacement } from '../../support/make-judged.ts';

describe('the stills of a sheet', () => {
  it('are the head, middle and tail of each range, and the frames of the partners that lie under them', () => {
    const [first] = stillGroups(brokenSplit());
    expect(first?.caption).toBe('TWR_027_0010 · 27B take 3, circled');
    const framesOf = (row: number) => first?.rows[row]?.pictures.map(({ still }) => still?.frame);
    // The cut is 44 to 151; the swapped pass lies 6 frames earlier, the clean plate of 120 frames head to head.
    expect(framesOf(0)).toEqual([44, 97, 151]);
    expect(framesOf(1)).toEqual([38, 91, 145]);
    expect(framesOf(2)).toEqual([44, 97, 119]);
  });

  it('say so when a frame is only the nearest there is', () => {
    const [first, second] = stillGroups(brokenSplit());
    expect(first?.rows[2]?.pictures.map(({ remark }) => remark)).toEqual(['', '', 'nearest there is, 32 frames away']);
    expect(second?.rows[1]?.pictures.map(({ remark }) => remark)).toEqual(['', '', 'nearest there is, 13 frames away']);
  });

  it('carry the number and the timecode of the frame', () => {
    expect(stillGroups(brokenSplit())[0]?.rows[0]?.pictures[0]?.caption).toBe('44 · 14:22:35:00');
    // Drop frame: 10:00:58;20 and 40 frames is 10:01:00;02, since 10:01:00;00 and ;01 do not exist (SMPTE ST 12-1).
    const moco = ambiguousMoco();
    const [needed] = moco.needed;
    const from40 = { ...moco, needed: needed === undefined ? [] : [{ ...needed, cut: { start: 40, end: 50 } }] };
    expect(stillGroups(from40)[0]?.rows[0]?.pictures[0]?.caption).toBe('40 · 10:01:00;02');
  });

  it('are numbered as the files of a sequence, and keep out of its holes', () => {
    const judged = headReplacement();
    const [needed] = judged.needed;
    const middle = needed === undefined ? [] : [{ ...needed, cut: { start: 90, end: 92 } }];
    const row = stillGroups({ ...judged, needed: middle })[0]?.rows[1];
    // Files 1090 to 1093 are missing, so frames 89 to 92 are answered by file 1089, frame 88.
    expect(row?.pictures[0]).toMatchObject({ still: { frame: 88 }, remark: 'nearest there is, 2 frames away' });
    expect(row?.pictures[0]?.caption).toMatch(/^1089 · /);
  });

  it('are not asked of a clip whose pictures cannot be decoded', () => {
    const judged = headReplacement();
    const raw = stillGroups(judged)[0]?.rows[0];
    expect(raw?.pictures.map(({ still, instead }) => [still, instead])).toEqual(Array.from({ length: 3 }, () => [undefined, 'not decodable here']));
    expect(plannedStills(judged).some(({ clip }) => clip.endsWith('.R3D'))).toBe(false);
  });

  it('are one for a reference, which lies beside the shot', () => {
    const rows = stillGroups(headReplacement())[0]?.rows ?? [];
    expect(rows).toHaveLength(12);
    expect(rows.filter(({ label }) => label === 'reference').map(({ pictures }) => pictures.length)).toEqual([1, 1, 1, 1, 1, 1]);
  });

  it('are planned once each, sorted by clip and frame', () => {
    const stills = plannedStills(brokenSplit());
    const keys = stills.map(({ clip, frame }) => `${clip} ${String(frame).padStart(6, '0')}`);
    expect(keys).toEqual([...new Set(keys)].toSorted());
    // Two ranges of three passes are 18 frames, but the clean plate's last stands for four of them.
    expect(stills).toHaveLength(15);
  });
});
