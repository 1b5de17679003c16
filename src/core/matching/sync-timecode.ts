import { spanOf } from '../coverage/span.ts';
import type { Clip } from '../material/clip.ts';
import type { Method } from '../material/method.ts';
import type { Sync } from '../material/plate-set.ts';
import { framesPerLabel } from '../timecode/half-rate.ts';
import { sameRate } from '../timecode/rate.ts';
import { formatTimecode, framesPerDay, sameFormat } from '../timecode/timecode.ts';

/** Words in notes that say one stretch of timecode was repeated on purpose. Common practice, no source. */
const REPEATED = /\b(?:play[\s-]?back|moco|motion[\s-]control|repeat(?:ed)? (?:move|pass)|(?:tc|timecode)[\s-]trigger\w*)\b/iu;

/**
 * The sync of two passes that carry the same stretch of timecode on purpose: the method repeats one move, the notes speak of
 * playback or motion control, or both start on one label. Undefined when they do not, or count otherwise.
 */
export function syncByTimecode(lead: Clip, clip: Clip, method: Method): Sync | undefined {
  if (lead.start === undefined || clip.start === undefined || lead.rate === undefined || clip.rate === undefined) return undefined;
  if (!sameRate(lead.rate, clip.rate) || !sameFormat(lead.start.format, clip.start.format)) return undefined;
  const perLabel = framesPerLabel(lead.rate, lead.start.format);
  if (perLabel === undefined) return undefined;
  const labels = shorterWay(lead.start.frame - clip.start.frame, framesPerDay(lead.start.format));
  const why = whyMeant(lead, clip, labels, method);
  const offset = labels * perLabel;
  if (why === undefined || !overlaps(offset, spanOf(lead), spanOf(clip))) return undefined;
  const start = `the lead starts at ${formatTimecode(lead.start)}, this pass at ${formatTimecode(clip.start)}`;
  // One label stands for several frames on a half-rate track, and which of them was first nobody wrote down.
  const loose = perLabel > 1 ? `; one label lasts ${perLabel} frames, so it may be out by ${perLabel - 1}` : '';
  return { method: 'equal-timecode', offset, confidence: perLabel > 1 ? 0.8 : why.confidence, words: `${why.words}: ${start}${loose}` };
}

function whyMeant(lead: Clip, clip: Clip, labels: number, method: Method): { readonly words: string; readonly confidence: number } | undefined {
  if (method.repeatedMove) return { words: `equal timecode, since ${method.name} passes repeat one move`, confidence: 0.9 };
  const note = [...lead.notes, ...clip.notes].find((text) => REPEATED.test(text));
  if (note !== undefined) return { words: `equal timecode, since the notes say "${note.trim()}"`, confidence: 0.9 };
  // A counter that starts every clip at zero is no evidence: all clips agree then.
  return labels === 0 && lead.start?.frame !== 0 ? { words: 'equal timecode, since both start on one label', confidence: 0.95 } : undefined;
}

function shorterWay(labels: number, day: number): number {
  const forward = ((labels % day) + day) % day;
  return 2 * forward > day ? forward - day : forward;
}

/** Whether any frame of the clip lies under the lead; a length that is not known is taken to be long enough. */
function overlaps(offset: number, leadFrames = Infinity, clipFrames = Infinity): boolean {
  return offset < clipFrames && offset + leadFrames > 0;
}
