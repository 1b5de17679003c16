import type { JudgedSet } from '../../core/checks/judged.ts';
import type { NeededRange, PassCoverage } from '../../core/coverage/coverage.ts';
import type { Clip } from '../../core/material/clip.ts';
import { pullRange } from '../../core/timecode/range.ts';
import { nominalBase } from '../../core/timecode/rate.ts';
import { frameNumber, labelAt, roleName } from './clip-words.ts';
import type { Block, Cell } from './content.ts';
import { coversOf, isHeld } from './coverage-drawing.ts';

/** More rows than this say no more: the frames between are counted on. */
const MOST_ROWS = 12;
const MOST_PASSES = 4;

/** The number that a frame of the lead has in the shot: the first frame of the head handle is `firstFrame`, whether it is there or not. */
export function shotNumber(leadFrame: number, needed: NeededRange, firstFrame: number): number {
  return firstFrame + leadFrame - pullRange(needed.cut, needed.handles).start;
}

/** Which timecode of each pass is which frame number of the shot: ends of handles and cut, and whole seconds between. */
export function frameNumberTable(judged: JudgedSet, needed: NeededRange, firstFrame: number): Block {
  const { clips } = judged.matched.set;
  const covers = coversOf(judged, needed).slice(0, MOST_PASSES);
  const lead = clips.find(({ id }) => id === needed.lead);
  const pull = pullRange(needed.cut, needed.handles);
  return {
    kind: 'table',
    caption: `Frame ${firstFrame} is the first of the head handle. A number belongs to its frame whether the frame is there or not: what is missing is left out, never made up.`,
    columns: [
      { heading: 'Frame', share: 0.7, align: 'right' },
      { heading: 'What', share: 1.2 },
      ...covers.map((cover) => ({ heading: `${roleName(cover.role)}, TC (frame)`, share: 1.8 })),
    ],
    rows: momentsOf(needed, lead?.rate === undefined ? 24 : nominalBase(lead.rate)).map(([frame, what]) => [
      { text: String(firstFrame + frame - pull.start), tone: 'strong' },
      { text: what, tone: what === '' ? 'faint' : 'plain' },
      ...covers.map((cover) => frameCell(cover, clips, frame, isHeld(judged, cover))),
    ]),
  };
}

/** Frames of the lead worth a row, and what they are. */
function momentsOf({ cut, handles }: NeededRange, second: number): readonly (readonly [number, string])[] {
  const pull = pullRange(cut, handles);
  const named = new Map<number, string>();
  const name = (frame: number, what: string): void => void named.set(frame, [named.get(frame), what].filter((part) => part !== undefined && part !== '').join(', '));
  if (handles.head > 0) name(pull.start, 'head handle begins');
  name(cut.start, 'cut, first frame');
  name(Math.max(cut.start, cut.end - 1), 'cut, last frame');
  if (handles.tail > 0) name(pull.end - 1, 'tail handle ends');
  const step = second * Math.max(1, Math.ceil((cut.end - cut.start) / second / (MOST_ROWS - 4)));
  for (let frame = cut.start + step; frame < cut.end - 1; frame += step) if (!named.has(frame)) named.set(frame, '');
  return [...named].toSorted(([a], [b]) => a - b);
}

function frameCell({ available, clip: id }: PassCoverage, clips: readonly Clip[], frame: number, held: boolean): Cell {
  const clip = clips.find((candidate) => candidate.id === id);
  const own = frame - available.start;
  if (clip === undefined) return { text: '' };
  if (held && (frame < available.start || frame >= available.end)) return { text: 'held: any frame', tone: 'faint' };
  if (frame < available.start || frame >= available.end) return { text: 'not there', tone: 'strong', differs: true };
  const label = labelAt(clip, own);
  return { text: label === undefined ? `(${frameNumber(clip, own)})` : `${label} (${frameNumber(clip, own)})` };
}
