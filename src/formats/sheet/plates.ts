import type { JudgedSet } from '../../core/checks/judged.ts';
import type { NeededRange, PassCoverage } from '../../core/coverage/coverage.ts';
import type { Clip } from '../../core/material/clip.ts';
import type { LeadMatch } from '../../core/material/plate-set.ts';
import type { FrameRange } from '../../core/timecode/range.ts';
import { overlap, pullRange } from '../../core/timecode/range.ts';
import { frameNumber, framesWords, labelAt, NOT_ON_RECORD, rateWords, roleName, secondsWords, shortName, spanFrames, takeWords } from './clip-words.ts';
import { syncWords } from '../report/sync-words.ts';
import type { Block, Cell, Table } from './content.ts';
import { coversOf, coverWords, isHeld, missingParts } from './coverage-drawing.ts';
import { partnersOf } from './stills.ts';

/** How each matched pass lies under its lead, a row a pass; a pass the method needs and nothing fills has a row too. */
export function syncTable(judged: JudgedSet, match: LeadMatch): Table {
  const { clips, method } = judged.matched.set;
  const matchOf = (id: string) => [match.swapped, match.clean, ...match.elements, ...match.references].find((pass) => pass?.clip === id);
  const rows = partnersOf(clips, match).map(({ clip, role }): Cell[] => {
    const pass = matchOf(clip.id);
    const name = { text: roleName(role), tone: 'strong', note: takeWords(clip) } as const;
    if (pass === undefined) return [name, { text: shortName(clip) }, { text: 'the pass the others are laid under', tone: 'faint' }, { text: '' }];
    if (role === 'reference') return [name, { text: shortName(clip) }, { text: 'beside the shot, not under it', tone: 'faint' }, { text: '' }];
    const rival = pass.runnerUp === undefined ? '' : `next best: ${lastPart(pass.runnerUp.clip)}`;
    return [
      name,
      { text: shortName(clip), note: pass.confirmed ? 'confirmed by hand' : rival },
      { text: `${role} frame = lead frame${offsetWords(pass.sync.offset)}`, note: pass.sync.words },
      { text: syncWords(pass.sync.method, pass.sync.confidence, role === 'clean' && !method.movingCamera) },
    ];
  });
  const filled = new Set(partnersOf(clips, match).map(({ role }) => role));
  const missing = [...method.required, ...method.wanted].filter((role) => !filled.has(role));
  return {
    columns: [
      { heading: 'Pass', share: 1.2 },
      { heading: 'Clip', share: 1.9 },
      { heading: 'Lies under the lead as', share: 2 },
      { heading: 'Sync', share: 1.2 },
    ],
    rows: [...rows, ...missing.map((role): Cell[] => [{ text: roleName(role), tone: 'strong' }, { text: 'not there', tone: 'strong', differs: true }, { text: '' }, { text: '' }])],
  };
}

/** Every clip of the set as it was recorded. Out is the last frame, which is in. */
export function platesTable(judged: JudgedSet): Table {
  return {
    columns: [
      { heading: 'Pass', share: 1.1 },
      { heading: 'Clip', share: 2.2 },
      { heading: 'TC in', share: 1.05 },
      { heading: 'TC out (last frame)', share: 1.05 },
      { heading: 'Frames', share: 0.75, align: 'right' },
      { heading: 'Numbers', share: 0.95, align: 'right' },
      { heading: 'Rate', share: 1.05 },
    ],
    rows: judged.matched.set.clips.map((clip) => plateRow(clip, judged.countingLeads.includes(clip.id))),
  };
}

function plateRow(clip: Clip, counts: boolean): readonly Cell[] {
  const span = spanFrames(clip);
  const last = span === undefined || span === 0 ? undefined : span - 1;
  const kind = { movie: '', sequence: 'image sequence', 'header-only': 'raw, header read only' }[clip.kind];
  return [
    { text: roleName(clip.role), tone: counts ? 'strong' : 'plain', note: takeWords(clip) },
    { text: shortName(clip), note: [folderOf(clip), kind, clip.usable ? '' : 'not usable', clip.complete === false ? clip.completeness : ''].filter((part) => part !== '').join(' · ') },
    { text: labelAt(clip, 0) ?? NOT_ON_RECORD },
    { text: (last === undefined ? undefined : labelAt(clip, last)) ?? NOT_ON_RECORD },
    { text: clip.frames === undefined ? NOT_ON_RECORD : String(clip.frames), note: clip.frames === undefined || clip.rate === undefined ? '' : secondsWords(clip.frames, clip.rate) },
    { text: last === undefined ? '' : `${frameNumber(clip, 0)}–${frameNumber(clip, last)}` },
    { text: rateWords(clip) },
  ];
}

/** For one range, which frames of each pass to take: cut range and handles, first and last frame, both in. */
export function pullTable(judged: JudgedSet, needed: NeededRange): Block {
  const { clips } = judged.matched.set;
  const pull = pullRange(needed.cut, needed.handles);
  const { head, tail } = needed.handles;
  return {
    kind: 'table',
    caption: `${framesWords(needed.cut.end - needed.cut.start)} of cut, handles ${head} + ${tail} frames (${needed.from}). First and last frame are both in, numbers in frames.`,
    columns: [
      { heading: 'Pass', share: 1.1 },
      { heading: 'First frame – last frame', share: 1.4 },
      { heading: 'TC first – TC last', share: 2.1 },
      { heading: 'Holds', share: 2.2 },
    ],
    rows: coversOf(judged, needed).map((cover) => pullRow(cover, clips.find(({ id }) => id === cover.clip), pull, isHeld(judged, cover))),
  };
}

function pullRow(cover: PassCoverage, clip: Clip | undefined, pull: FrameRange, held: boolean): readonly Cell[] {
  const there = overlap(pull, cover.available);
  const text = coverWords(cover, pull, held);
  const holds: Cell = held || missingParts(cover, cover.needed).length === 0 ? { text } : { text, tone: 'strong', differs: true };
  if (clip === undefined || there === undefined) return [{ text: roleName(cover.role), tone: 'strong' }, { text: held ? 'any' : 'none' }, { text: '' }, holds];
  // A pass begins at `available.start` on the lead's count, so that frame is its own first.
  const first = there.start - cover.available.start;
  const last = there.end - 1 - cover.available.start;
  const labels = [labelAt(clip, first), labelAt(clip, last)];
  return [
    { text: roleName(cover.role), tone: 'strong' },
    { text: `${frameNumber(clip, first)} – ${frameNumber(clip, last)}` },
    { text: labels[0] === undefined || labels[1] === undefined ? NOT_ON_RECORD : `${labels[0]} – ${labels[1]}` },
    holds,
  ];
}

function offsetWords(offset: number): string {
  if (offset === 0) return '';
  return offset > 0 ? ` + ${offset}` : ` − ${-offset}`;
}

function folderOf({ file }: Clip): string {
  const slash = file.lastIndexOf('/');
  return slash < 0 ? '' : file.slice(0, slash + 1);
}

function lastPart(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
}
