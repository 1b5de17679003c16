import { spanOf } from '../coverage/span.ts';
import type { Clip } from '../material/clip.ts';
import type { Sync } from '../material/plate-set.ts';
import { framesPerLabel } from '../timecode/half-rate.ts';
import { formatTimecode, framesPerDay, parseLabel, shiftTimecode, TimecodeError } from '../timecode/timecode.ts';

/** A moment that people noted in a pass so as to lay passes over each other. `frame` is counted from the clip's first frame. */
export interface SyncMark {
  readonly frame: number;
  /** Where it was noted: "moves.csv line 4", "its notes". */
  readonly from: string;
  readonly label: string;
}

/** How sure a sync is that rests on a label someone read and wrote down. Common practice, no source. */
const CONFIDENCE = 0.8;
const CONTRADICTED = 0.4;

const NOTED = /\b(sync|clap)(?:per)?(?:\s+mark)?\b[^\d\n]{0,12}(\d{1,2}[:;]\d{2}[:;]\d{2}[:;.,]\d{2,3})/giu;

/** Sync from a mark of one name in both passes; the mark named "sync" first. Marks that contradict it make it less sure. */
export function syncByMarks(lead: ReadonlyMap<string, SyncMark>, clip: ReadonlyMap<string, SyncMark>): Sync | undefined {
  const shared = [...lead]
    .flatMap(([name, inLead]) => {
      const inClip = clip.get(name);
      return inClip === undefined ? [] : [{ name, inLead, inClip, offset: inClip.frame - inLead.frame }];
    })
    .toSorted((a, b) => (a.name < b.name ? 1 : -1));
  const [best, ...others] = shared;
  if (best === undefined) return undefined;
  const against = others.find(({ offset }) => offset !== best.offset);
  const words = `mark "${best.name}" at ${best.inLead.label} in the lead (${best.inLead.from}) and at ${best.inClip.label} in this pass (${best.inClip.from})`;
  return against === undefined
    ? { method: 'sync-mark', offset: best.offset, confidence: CONFIDENCE, words }
    : { method: 'sync-mark', offset: best.offset, confidence: CONTRADICTED, words: `${words}; mark "${against.name}" says ${against.offset} frames` };
}

/** The name of a mark that is there for sync: "sync" or "clap"; undefined for the marks of a move. */
export function syncMarkName(mark: string): string | undefined {
  return /^\s*(sync|clap)(?:per)?(?:[\s_-]*mark)?\s*$/iu.exec(mark)?.[1]?.toLowerCase();
}

/** Sync marks in the notes of a clip: "sync 14:22:40:03". */
export function marksInNotes(clip: Clip): readonly { readonly name: string; readonly mark: SyncMark }[] {
  return clip.notes.flatMap((note) =>
    [...note.matchAll(NOTED)].flatMap(([, name = '', label = '']) => {
      const mark = markAt(clip, label, 'its notes');
      return mark === undefined ? [] : [{ name: name.toLowerCase(), mark }];
    }),
  );
}

/** A label as a frame of the clip; undefined when it does not exist in the clip's timecode or lies outside the clip. */
export function markAt(clip: Clip, label: string, from: string): SyncMark | undefined {
  if (clip.start === undefined || clip.rate === undefined) return undefined;
  const perLabel = framesPerLabel(clip.rate, clip.start.format);
  if (perLabel === undefined) return undefined;
  try {
    const day = framesPerDay(clip.start.format);
    const labels = (parseLabel(label, clip.start.format).frame - clip.start.frame + day) % day;
    const frame = labels * perLabel;
    return frame < (spanOf(clip) ?? 0) ? { frame, from, label: formatTimecode(shiftTimecode(clip.start, labels)) } : undefined;
  } catch (error) {
    if (error instanceof TimecodeError) return undefined;
    throw error;
  }
}
