import { describe, expect, it } from 'vitest';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { Method } from '../../../src/core/material/method.ts';
import type { MoveMark } from '../../../src/core/material/shot-list.ts';
import { markFinder } from '../../../src/core/matching/marks-of-clip.ts';
import { pairCorrections } from '../../../src/core/matching/pair-corrections.ts';
import type { SyncEvidence } from '../../../src/core/matching/sync.ts';
import { syncPasses } from '../../../src/core/matching/sync.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { parseLabel } from '../../../src/core/timecode/timecode.ts';
import { method, ROLE_WORDS, slate } from '../../support/make-clips.ts';
import { pairCorrection, pass } from '../../support/make-sets.ts';

const lead = (over: Partial<Clip> = {}, at = '14:22:33:04'): Clip => pass({ role: 'lead', take: 1, at, over });
const swapped = (over: Partial<Clip> = {}, at = '14:30:00:00'): Clip => pass({ role: 'swapped', take: 2, at, over });

interface Known {
  readonly method?: Method;
  readonly corrections?: Parameters<typeof pairCorrections>[0];
  readonly evidence?: readonly SyncEvidence[];
  readonly marks?: readonly MoveMark[];
}

function syncOf(a: Clip, b: Clip, known: Known = {}) {
  return syncPasses(
    { lead: a, clip: b, role: b.role },
    {
      method: known.method ?? method('split'),
      corrections: pairCorrections(known.corrections ?? [], [a, b]),
      evidenceFor: () => known.evidence ?? [],
      marksOf: markFinder(known.marks ?? [], ROLE_WORDS),
    },
  );
}

const mark = (over: Partial<MoveMark>): MoveMark => ({ slate: '27B', pass: 'lead', mark: 'sync', from: 'moves.csv line 2', ...over });
const evidence = (kind: SyncEvidence['kind'], offset: number, confidence = 0.7): SyncEvidence => ({
  kind, offset, confidence, lead: '', clip: '', words: `${kind} says ${offset}`,
});

describe('sync', () => {
  it('is assumed head to head when nothing tells, and says so', () => {
    expect(syncOf(lead(), swapped())).toEqual({ method: 'assumed', offset: 0, confidence: 0.2, words: 'nothing tells: assumed head to head' });
  });

  it('goes by a correction before all else', () => {
    const a = lead();
    const b = swapped({}, '14:22:33:04');
    const corrections = [pairCorrection({ kind: 'sync', lead: a.file, clip: b.file, offset: -12 })];
    expect(syncOf(a, b, { corrections, evidence: [evidence('cut', 3)] })).toMatchObject({ method: 'correction', offset: -12, confidence: 1 });
  });

  it('trusts the cut before equal timecode, timecode before marks, marks before sound, sound before the camera move', () => {
    const all = [evidence('camera-motion', 1), evidence('guide-audio', 2), evidence('cut', 3)];
    const withMark = { notes: ['sync 14:22:34:04'] };
    const late = { notes: ['sync 14:30:00:06'] };
    const kinds = [
      syncOf(lead(withMark), swapped(withMark, '14:22:33:04'), { evidence: all }),
      syncOf(lead(withMark), swapped(withMark, '14:22:33:04'), { evidence: all.slice(0, 2) }),
      syncOf(lead(withMark), swapped(late), { evidence: all.slice(0, 2) }),
      syncOf(lead(), swapped(), { evidence: all.slice(0, 2) }),
      syncOf(lead(), swapped(), { evidence: all.slice(0, 1) }),
    ].map((sync) => sync.method);
    expect(kinds).toEqual(['cut', 'equal-timecode', 'sync-mark', 'guide-audio', 'camera-motion']);
  });

  it('takes the surest of several pieces of evidence of one kind', () => {
    expect(syncOf(lead(), swapped(), { evidence: [evidence('guide-audio', 9, 0.5), evidence('guide-audio', 4, 0.8)] }).offset).toBe(4);
  });
});

describe('sync by equal timecode', () => {
  it('holds when both passes start on one label', () => {
    expect(syncOf(lead(), swapped({}, '14:22:33:04'))).toMatchObject({ method: 'equal-timecode', offset: 0, confidence: 0.95 });
  });

  it('lays equal labels over each other when the method repeats one move', () => {
    const sync = syncOf(lead(), swapped({}, '14:22:32:00'), { method: method('moco', { repeatedMove: true }) });
    // The pass starts 28 labels early, so frame 28 of it lies under frame 0 of the lead.
    expect(sync).toMatchObject({ method: 'equal-timecode', offset: 28 });
    expect(sync.words).toContain('the lead starts at 14:22:33:04, this pass at 14:22:32:00');
  });

  it.each(['playback from bar 12', 'Moco pass 2', 'motion control', 'TC triggered'])('believes notes that say "%s"', (note) => {
    expect(syncOf(lead(), swapped({ notes: [note] }, '14:22:35:04'))).toMatchObject({ method: 'equal-timecode', offset: -48 });
  });

  it('does not take a clock for it: passes of a moco set recorded one after the other share no label', () => {
    expect(syncOf(lead(), swapped(), { method: method('moco', { repeatedMove: true }) }).method).toBe('assumed');
  });

  it('does not take overlapping timecode for it when nobody meant it', () => {
    expect(syncOf(lead(), swapped({}, '14:22:34:04')).method).toBe('assumed');
  });

  it('does not take two counters that both start at zero for it', () => {
    expect(syncOf(lead({}, '00:00:00:00'), swapped({}, '00:00:00:00')).method).toBe('assumed');
  });

  it('works across midnight', () => {
    const sync = syncOf(lead({}, '23:59:59:00'), swapped({}, '00:00:01:00'), { method: method('moco', { repeatedMove: true }) });
    expect(sync).toMatchObject({ method: 'equal-timecode', offset: -48 });
  });

  it('counts two frames to a label where 50 fps is counted 25 to the second, and is less sure', () => {
    const half = { rate: frameRate(50), frames: 500 };
    const format = { base: 25, drop: false };
    const a = lead({ ...half, start: parseLabel('10:00:00:00', format) });
    const b = swapped({ ...half, start: parseLabel('10:00:01:00', format) });
    const sync = syncOf(a, b, { method: method('moco', { repeatedMove: true }) });
    expect(sync).toMatchObject({ method: 'equal-timecode', offset: -50, confidence: 0.8 });
    expect(sync.words).toContain('may be out by 1');
  });

  it('does not compare drop-frame labels with non-drop ones', () => {
    const rate = frameRate(30000, 1001);
    const a = lead({ rate, start: parseLabel('10:00:00;00', { base: 30, drop: true }) });
    const b = swapped({ rate, start: parseLabel('10:00:00:00', { base: 30, drop: false }) });
    expect(syncOf(a, b, { method: method('moco', { repeatedMove: true }) }).method).toBe('assumed');
  });
});

describe('sync of passes at unlike rates', () => {
  it('is refused: no offset in frames can lay one under the other', () => {
    const sync = syncOf(lead(), swapped({ rate: frameRate(25) }, '14:22:33:04'), { evidence: [evidence('cut', 3)] });
    expect(sync).toMatchObject({ method: 'assumed', offset: 0, confidence: 0 });
    expect(sync.words).toContain('25 fps and the lead at 24');
  });

  it('matters neither to a reference nor to the clean plate of a locked-off camera', () => {
    const sync = (role: 'reference' | 'clean', movingCamera: boolean) =>
      syncOf(lead(), pass({ role, take: 3, over: { rate: frameRate(25) } }), { method: method('split', { movingCamera }) });
    expect(sync('reference', true).confidence).toBe(1);
    expect(sync('clean', false)).toMatchObject({ method: 'assumed', confidence: 1 });
    expect(sync('clean', true).confidence).toBe(0);
  });
});

describe('sync marks', () => {
  it('lays a mark of the move notes in the lead over the same mark in the pass', () => {
    const marks = [mark({ tc: '14:22:34:04' }), mark({ take: 2, pass: 'SW', tc: '14:30:03:02', from: 'moves.csv line 9' })];
    // One second into the lead is frame 24; 3 s and 2 frames into the pass is frame 74.
    expect(syncOf(lead(), swapped(), { marks })).toEqual({
      method: 'sync-mark', offset: 50, confidence: 0.8,
      words: 'mark "sync" at 14:22:34:04 in the lead (moves.csv line 2) and at 14:30:03:02 in this pass (moves.csv line 9)',
    });
  });

  it.each(['sync 14:30:03:02', 'Sync mark at 14:30:03:02, good', 'SYNC: 14:30:03:02'])('reads the note "%s"', (note) => {
    expect(syncOf(lead({ notes: ['sync 14:22:34:04'] }), swapped({ notes: [note] })).offset).toBe(50);
  });

  it('takes no label that lies outside the clip, does not exist, or has another name in the other pass', () => {
    for (const note of ['sync 14:40:00:00', 'sync 14:30:03:24', 'clap 14:30:03:02', 'async 14:30:03:02', 'sync later']) {
      expect(syncOf(lead({ notes: ['sync 14:22:34:04'] }), swapped({ notes: [note] })).method).toBe('assumed');
    }
  });

  it('is less sure when two marks contradict each other, and drops a mark noted at two places', () => {
    const two = syncOf(lead({ notes: ['sync 14:22:34:04', 'clap 14:22:35:04'] }), swapped({ notes: ['sync 14:30:01:00', 'clap 14:30:02:01'] }));
    expect(two).toMatchObject({ method: 'sync-mark', offset: 0, confidence: 0.4 });
    expect(syncOf(lead({ notes: ['sync 14:22:34:04', 'sync 14:22:35:04'] }), swapped({ notes: ['sync 14:30:01:00'] })).method).toBe('assumed');
  });

  it('does not take the mark of another take, camera, pass or set-up', () => {
    const good = mark({ take: 2, pass: 'SW', tc: '14:30:03:02' });
    for (const other of [{ take: 5 }, { camera: 'B' }, { pass: 'CP' }, { slate: '28' }]) {
      expect(syncOf(lead(), swapped(), { marks: [mark({ tc: '14:22:34:04' }), { ...good, ...other }] }).method).toBe('assumed');
    }
  });

  it('finds the mark of a pass slated for another set-up under either slate', () => {
    const linked = swapped({ slate: slate('27C', 1), forSlate: slate('27B') });
    for (const written of ['27B', '27C']) {
      const marks = [mark({ tc: '14:22:34:04' }), mark({ slate: written, pass: 'SW', tc: '14:30:03:02' })];
      expect(syncOf(lead(), linked, { marks }).offset).toBe(50);
    }
  });

  it('counts frames, not labels, on a half-rate track', () => {
    const format = { base: 25, drop: false };
    const half = (label: string): Partial<Clip> => ({ rate: frameRate(50), frames: 500, start: parseLabel(label, format) });
    const sync = syncOf(lead({ ...half('10:00:00:00'), notes: ['sync 10:00:01:00'] }), swapped({ ...half('11:00:00:00'), notes: ['sync 11:00:02:00'] }));
    expect(sync).toMatchObject({ method: 'sync-mark', offset: 50 });
  });
});

describe('agreement on sync', () => {
  it('makes an offset surer when a second kind of evidence says the same', () => {
    const sync = syncOf(lead(), swapped(), { evidence: [evidence('guide-audio', 12, 0.9), evidence('camera-motion', 12, 0.7)] });
    expect(sync).toMatchObject({ method: 'guide-audio', offset: 12, words: 'guide-audio says 12; camera motion agrees' });
    expect(sync.confidence).toBeCloseTo(0.97);
    expect(sync.contradictedBy).toBeUndefined();
  });

  it('calls a frame apart agreement, and goes by the more trusted', () => {
    expect(syncOf(lead(), swapped(), { evidence: [evidence('camera-motion', 13), evidence('guide-audio', 12)] })).toMatchObject({ method: 'guide-audio', offset: 12 });
  });

  it('keeps evidence that contradicts, and is half as sure', () => {
    const sync = syncOf(lead(), swapped(), { evidence: [evidence('guide-audio', 12, 0.9), evidence('camera-motion', 40, 0.8)] });
    expect(sync).toMatchObject({ method: 'guide-audio', offset: 12, confidence: 0.45, contradictedBy: [{ method: 'camera-motion', offset: 40 }] });
  });

  it('passes over a weak contradiction', () => {
    expect(syncOf(lead(), swapped(), { evidence: [evidence('guide-audio', 12, 0.9), evidence('camera-motion', 40, 0.3)] }).contradictedBy).toBeUndefined();
  });

  it('lets sound contradict equal timecode', () => {
    const sync = syncOf(lead(), swapped({}, '14:22:33:04'), { evidence: [evidence('guide-audio', 12, 0.9)] });
    expect(sync).toMatchObject({ method: 'equal-timecode', offset: 0, contradictedBy: [{ method: 'guide-audio', offset: 12 }] });
  });
});
