import { describe, expect, it } from 'vitest';
import type { Clip } from '../../../../src/core/material/clip.ts';
import type { SourceRange } from '../../../../src/core/material/cut-event.ts';
import { placeSource } from '../../../../src/core/matching/cut/place-source.ts';
import { frameRate } from '../../../../src/core/timecode/rate.ts';
import { parseLabel } from '../../../../src/core/timecode/timecode.ts';
import { makeClip } from '../../../support/make-clips.ts';

const LABELS = { base: 24, drop: false };

function source(start: number, end: number, over: Partial<SourceRange> = {}): SourceRange {
  return { range: { start, end }, rate: frameRate(24), format: LABELS, counting: 'assumed', ...over };
}

/** 240 frames from a label. */
function clip(label: string, format = LABELS, over: Partial<Clip> = {}): Clip {
  return makeClip('A003C001.mov', { start: parseLabel(label, format), timecodeFormat: format, ...over });
}

const frames = (placed: ReturnType<typeof placeSource>) => (placed.kind === 'placed' ? [placed.range.start, placed.range.end, placed.by] : placed.why);

describe('a source range on a clip', () => {
  it('is placed by timecode, and may reach beyond the clip', () => {
    expect(frames(placeSource(source(864_010, 864_300), clip('10:00:00:00')))).toEqual([10, 300, 'source timecode']);
  });

  it('runs across midnight', () => {
    expect(frames(placeSource(source(24, 48), clip('23:59:59:00')))).toEqual([48, 72, 'source timecode']);
  });

  it('has two frames of a 48 fps clip for each of a cut at 24', () => {
    const fast = clip('10:00:00:00', { base: 48, drop: false }, { rate: frameRate(48), frames: 480 });
    expect(frames(placeSource(source(864_010, 864_020), fast))).toEqual([20, 40, 'source timecode']);
  });

  it('counts every frame where labels of the clip stand for two', () => {
    const paired = clip('10:00:00:00', { base: 25, drop: false }, { rate: frameRate(50), frames: 500 });
    expect(frames(placeSource(source(900_010, 900_020, { rate: frameRate(25), format: { base: 25, drop: false } }), paired))).toEqual([20, 40, 'source timecode']);
  });

  it('is read the way the clip counts when the list only assumes drop frame, and refused when it states it', () => {
    const ntsc = { rate: frameRate(30000, 1001), format: { base: 30, drop: true } };
    const nonDrop = clip('01:00:00:00', { base: 30, drop: false }, { rate: frameRate(30000, 1001) });
    // 01:00:00;00 is frame 107892 and 01:00:00:00 frame 108000 (SMPTE ST 12-1).
    expect(frames(placeSource(source(107_892, 107_902, { ...ntsc, counting: 'assumed' }), nonDrop))).toEqual([0, 10, 'source timecode']);
    expect(frames(placeSource(source(107_892, 107_902, { ...ntsc, counting: 'stated' }), nonDrop))).toBe('its source timecode is drop frame and that of the clip non-drop');
  });

  it('takes a count of frames as it is, however the clip writes its labels', () => {
    const drop = clip('01:00:00;00', { base: 30, drop: true }, { rate: frameRate(30000, 1001) });
    expect(frames(placeSource(source(107_902, 107_912, { rate: frameRate(30000, 1001), format: { base: 30, drop: false }, counting: 'frames' }), drop))).toEqual([10, 20, 'source timecode']);
  });

  it('goes by the number in the file name of a sequence', () => {
    const sequence = clip('10:00:00:00', LABELS, { kind: 'sequence', sequence: { first: 1001, last: 1100, padding: 4, missing: [] } });
    expect(frames(placeSource(source(5, 10, { counting: 'frames', available: { start: 0, end: 50 }, firstNumber: 1011 }), sequence))).toEqual([15, 20, 'file number']);
  });

  it('is counted from the first frame where the clip has no timecode, or the cut counts its media from 0', () => {
    const { start: _none, ...unclocked } = clip('10:00:00:00');
    expect(frames(placeSource(source(10, 20), unclocked))).toEqual([10, 20, 'count from its first frame']);
    expect(frames(placeSource(source(10, 20, { counting: 'frames', available: { start: 0, end: 240 } }), clip('10:00:00:00')))).toEqual([10, 20, 'count from its first frame']);
  });

  it('lies nowhere when the timecode is not that of the clip, or counts at another rate', () => {
    expect(frames(placeSource(source(10, 20), clip('10:00:00:00')))).toContain('lies outside the clip');
    expect(frames(placeSource(source(10, 20), clip('10:00:00:00', { base: 25, drop: false }, { rate: frameRate(25) })))).toContain('24 labels a second and the clip at 25');
  });
});
