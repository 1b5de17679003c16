import type { JudgedSet } from '../../core/checks/judged.ts';
import type { NeededRange } from '../../core/coverage/coverage.ts';
import type { Clip, Role } from '../../core/material/clip.ts';
import type { LeadMatch } from '../../core/material/plate-set.ts';
import { sortedBy } from '../report/order.ts';
import { frameNumber, framesWords, labelAt, roleName, shortName, spanFrames } from './clip-words.ts';
import type { Picture, PictureRow, PlannedStill } from './content.ts';
import { rangeOfTake, shownNeeds } from './coverage-drawing.ts';

/** Pictures of one needed range: a row a pass, and in it the head, the middle and the tail of the cut. */
export interface StillGroup {
  readonly caption: string;
  readonly rows: readonly PictureRow[];
}

/**
 * The matched frames a sheet shows for each needed range of the leads that count: lead frame f and partner frame f + offset,
 * at the head, middle and tail of the cut. A frame the partner does not have is answered by its nearest one, and says so.
 */
export function stillGroups(judged: JudgedSet): readonly StillGroup[] {
  const { matches, set } = judged.matched;
  return shownNeeds(judged).flatMap((needed) => {
    const match = matches.find(({ lead }) => lead === needed.lead);
    return match === undefined ? [] : [{ caption: rangeOfTake(needed, set.clips), rows: rowsOf(set.clips, match, needed) }];
  });
}

/** Every still of a set's sheet, each once, sorted by clip and frame. */
export function plannedStills(judged: JudgedSet): readonly PlannedStill[] {
  const stills = stillGroups(judged).flatMap(({ rows }) => rows.flatMap(({ pictures }) => pictures.flatMap(({ still }) => (still === undefined ? [] : [still]))));
  const key = ({ clip, frame }: PlannedStill): string => `${clip} ${String(frame).padStart(9, '0')}`;
  return sortedBy([...new Map(stills.map((still) => [key(still), still])).values()], key);
}

interface Partner {
  readonly clip: Clip;
  readonly role: Role;
  readonly offset: number;
}

/** The passes of one match, the lead first, each with its offset from the lead. */
export function partnersOf(clips: readonly Clip[], match: LeadMatch): readonly Partner[] {
  const passes = [
    { clip: match.lead, role: 'lead' as const, sync: { offset: 0 } },
    ...(match.swapped === undefined ? [] : [match.swapped]),
    ...(match.clean === undefined ? [] : [match.clean]),
    ...sortedBy(match.elements, ({ clip }) => clip),
    ...sortedBy(match.references, ({ clip }) => clip),
  ];
  return passes.flatMap(({ clip: id, role, sync }) => {
    const clip = clips.find((candidate) => candidate.id === id);
    return clip === undefined ? [] : [{ clip, role, offset: sync.offset }];
  });
}

function rowsOf(clips: readonly Clip[], match: LeadMatch, { cut }: NeededRange): readonly PictureRow[] {
  const moments = [
    { heading: 'head', frame: cut.start },
    { heading: 'middle', frame: Math.floor((cut.start + cut.end - 1) / 2) },
    { heading: 'tail', frame: Math.max(cut.start, cut.end - 1) },
  ];
  return partnersOf(clips, match).map(({ clip, role, offset }) => ({
    label: roleName(role),
    note: shortName(clip),
    // A reference lies beside the shot, not under it: its middle says what it is.
    pictures: role === 'reference' ? [middleOf(clip)] : moments.map(({ heading, frame }) => pictureAt(clip, heading, frame + offset)),
  }));
}

function middleOf(clip: Clip): Picture {
  return pictureAt(clip, 'middle of the clip', Math.floor(((spanFrames(clip) ?? 1) - 1) / 2));
}

function pictureAt(clip: Clip, heading: string, wanted: number): Picture {
  const length = spanFrames(clip);
  if (length === undefined || length === 0) return { heading, still: undefined, caption: '', remark: '', instead: 'the length of the clip is unknown' };
  const frame = nearestPresent(clip, Math.min(Math.max(wanted, 0), length - 1));
  const timecode = labelAt(clip, frame);
  const away = Math.abs(frame - wanted);
  return {
    heading,
    still: clip.decodable ? { clip: clip.id, frame } : undefined,
    caption: `${frameNumber(clip, frame)}${timecode === undefined ? '' : ` · ${timecode}`}`,
    remark: away === 0 ? '' : `nearest there is, ${framesWords(away)} away`,
    instead: 'not decodable here',
  };
}

/** The frame itself, or when it falls into a hole of the sequence the last one before the hole. */
function nearestPresent({ sequence }: Clip, frame: number): number {
  if (sequence === undefined) return frame;
  const hole = sequence.missing.find(({ start, end }) => sequence.first + frame >= start && sequence.first + frame < end);
  return hole === undefined ? frame : Math.max(0, hole.start - 1 - sequence.first);
}
