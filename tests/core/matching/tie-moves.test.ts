import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Clip } from '../../../src/core/material/clip.ts';
import { framesHeld, layMove } from '../../../src/core/material/move-on-clip.ts';
import type { RecordedMove } from '../../../src/core/material/tracked-move.ts';
import { tieMoves } from '../../../src/core/matching/tie-moves.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { parseLabel } from '../../../src/core/timecode/timecode.ts';
import { makeMove } from '../../support/make-moves.ts';
import { LABELS_24, pass } from '../../support/make-sets.ts';

function clip(file: string, at: string, over: Partial<Clip> = {}): Clip {
  return pass({ role: 'lead', take: 1, at, over: { id: file, file, frames: 48, ...over } });
}

function tied(moves: readonly RecordedMove[], clips: readonly Clip[]): readonly (readonly [string, string, string])[] {
  return tieMoves(moves, clips).ties.map((tie) => [tie.move.file, tie.clip, tie.evidence]);
}

describe('tying recorded moves to clips', () => {
  const lead = clip('A003/A003C001_27B.mov', '10:00:00:00');
  const swapped = clip('A003/A003C002_27B.mov', '10:05:00:00');
  const moco = clip('A003/A003C003_27B.mov', '10:00:00:00');

  it('goes by the name of the file first, whatever the folder, and whatever is added to the name', () => {
    const move = makeMove({ file: 'tracking/A003C002_27B_track.jsonl', at: '10:00:00:00' });
    expect(tied([move], [lead, swapped, moco])).toEqual([[move.file, swapped.id, 'tracking/A003C002_27B_track.jsonl carries its name']]);
  });

  it('goes by the folder when it holds one clip alone', () => {
    const inOwn = clip('takes/3/plate.mov', '12:00:00:00');
    expect(tied([makeMove({ file: 'takes/3/move.json', at: '10:00:00:00' })], [lead, inOwn])).toEqual([['takes/3/move.json', inOwn.id, 'takes/3/move.json lies in its folder, which holds no other clip']]);
  });

  it('goes by timecode last, and a long recording holds every take it ran through', () => {
    const move = makeMove({ file: 'tracking/morning.jsonl', at: '09:59:50:00', frames: 24 * 400 });
    expect(tied([move], [lead, swapped])).toEqual([[move.file, lead.id, `timecode of ${move.file}`], [move.file, swapped.id, `timecode of ${move.file}`]]);
  });

  it('ties no move of another camera', () => {
    const move = makeMove({ file: 'tracking/x.jsonl', at: '10:00:00:00', camera: { label: 'B' } });
    expect(tieMoves([move], [lead])).toMatchObject({ ties: [], findings: [{ code: 'unused-sidecar', severity: 'warn', subject: [] }] });
  });

  it('does not guess between two takes of one timecode, unless the samples carry the slate', () => {
    const move = makeMove({ file: 'tracking/x.jsonl', at: '10:00:00:00' });
    const second = { ...moco, slate: { ...lead.slate, scene: '27', setup: 'B', suffix: '', text: '27B-3', take: 3, prefix: '' } } as Clip;
    const { ties, findings } = tieMoves([move], [lead, second]);
    expect(ties).toEqual([]);
    expect(findings).toMatchObject([{ code: 'unused-sidecar', subject: [lead.id, second.id], consequence: expect.stringContaining('(48 samples from 10:00:00:00) could be that of') }]);
    expect(tied([{ ...move, slate: '27B-3' }], [lead, second])).toEqual([[move.file, second.id, `timecode of ${move.file}`]]);
  });

  it('never depends on the order of moves and clips', () => {
    const moves = [makeMove({ file: 'tracking/A003C002_27B.jsonl', at: '10:05:00:00' }), makeMove({ file: 'tracking/m.jsonl', at: '10:00:00:00' })];
    const key = (m: readonly RecordedMove[], c: readonly Clip[]): unknown => tieMoves(m, c).ties.map(({ move, clip: id }) => `${move.file} ${id}`);
    fc.assert(fc.property(fc.shuffledSubarray(moves, { minLength: 2 }), fc.shuffledSubarray([lead, swapped], { minLength: 2 }), (m, c) => {
      expect(key(m, c)).toEqual(key(moves, [lead, swapped]));
    }));
  });

  it('lays what the lens was set to along the clip, frame by frame', () => {
    const move = makeMove({ file: 'A003/A003C001_27B.json', at: '10:00:00:02', frames: 4, lens: (frame) => ({ focalLengthMm: 35 + frame, tStop: 2.8 }) });
    const [first] = tieMoves([move], [lead]).clips;
    expect(first?.tracks).toEqual([{ source: { kind: 'sidecar', file: move.file, place: 'source tracker' }, frames: 6, stopKind: 'T', values: { focalLength: [NaN, NaN, 35, 36, 37, 38], stop: [NaN, NaN, 2.8, 2.8, 2.8, 2.8] } }]);
  });
});

describe('a move under a clip', () => {
  it('counts two samples a frame where the tracker runs twice as fast', () => {
    const move = { ...makeMove({ file: 'x', at: '10:00:00:00', frames: 96 }), rate: frameRate(48), format: { base: 48, drop: false } };
    const at = { frames: 48, rate: frameRate(24), start: parseLabel('05:00:01:00', LABELS_24) };
    expect(layMove(move, at)).toEqual({ kind: 'laid', start: (5 * 3600 + 1) * 48, each: 2 });
    expect(framesHeld(move, at)).toEqual({ start: 0, end: 24 });
  });

  it('goes on after midnight as the move does', () => {
    const move = makeMove({ file: 'x', at: '23:59:59:00', frames: 72 });
    expect(framesHeld(move, { frames: 48, rate: frameRate(24), start: parseLabel('00:00:00:12', LABELS_24) })).toEqual({ start: 0, end: 36 });
  });

  it('is not laid without timecode, at another rate, or in drop frame under non-drop', () => {
    const at = { frames: 48, rate: frameRate(24), start: parseLabel('10:00:00:00', LABELS_24) };
    const move = makeMove({ file: 'x', at: '10:00:00:00' });
    expect(layMove({ ...move, counted: 'order' }, at).kind).toBe('not-laid');
    expect(layMove({ ...move, rate: frameRate(25), format: { base: 25, drop: false } }, at).kind).toBe('not-laid');
    expect(layMove({ ...move, format: { base: 24, drop: true } }, at).kind).toBe('not-laid');
  });
});
