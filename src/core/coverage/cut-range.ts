import type { Clip } from '../material/clip.ts';
import type { ReadingProblem } from '../material/finding.ts';
import type { ShotRow } from '../material/shot-list.ts';
import { framesPerLabel } from '../timecode/half-rate.ts';
import type { FrameRange } from '../timecode/range.ts';
import type { Timecode } from '../timecode/timecode.ts';
import { TimecodeError, formatTimecode, framesPerDay, parseLabel } from '../timecode/timecode.ts';

/** The cut range of a row, in frames from the lead's first; `uncut` when the row gives none; or why it cannot be placed. */
export type CutReading =
  | { readonly kind: 'cut'; readonly range: FrameRange }
  | { readonly kind: 'uncut' }
  | { readonly kind: 'problem'; readonly problem: ReadingProblem };

/**
 * The frames a cut gives, else `cut_in` and `cut_out` read as labels of the lead's own timecode. The range may lie outside the lead: that is a shortage, not
 * a fault of the row. A range across midnight stays in order.
 */
export function readCut(row: ShotRow, lead: Clip): CutReading {
  const { cutIn, cutOut, cutFrames } = row;
  if (cutFrames !== undefined) return { kind: 'cut', range: cutFrames };
  if (cutIn === undefined && cutOut === undefined) return { kind: 'uncut' };
  if (cutIn === undefined || cutOut === undefined) {
    const [there, absent] = cutIn === undefined ? ['cut_out', 'cut_in'] : ['cut_in', 'cut_out'];
    return problem(row, absent, `${there} without ${absent}`, 'both, or neither', `Fill in ${absent}.`);
  }
  const { start, rate } = lead;
  if (start === undefined) {
    return problem(row, 'cut_in', `${cutIn}, but the lead ${lead.file} has no timecode`, 'a lead with timecode', 'State the start timecode of the lead in a report.');
  }
  const perLabel = rate === undefined ? 1 : framesPerLabel(rate, start.format);
  if (perLabel === undefined) {
    return problem(row, 'cut_in', `${cutIn}, but the labels of ${lead.file} do not keep step with its frames`, 'timecode that fits the frame rate', 'Check the rates of the lead.');
  }
  try {
    return placeCut(row, labelsFrom(start, cutIn), labelsFrom(start, cutOut), start, perLabel);
  } catch (error) {
    if (!(error instanceof TimecodeError)) throw error;
    const column = error.label === cutIn ? 'cut_in' : 'cut_out';
    return problem(row, column, `"${error.label}": ${error.reason}`, `a label of the lead's timecode, which starts at ${formatTimecode(start)}`, 'Correct the label.');
  }
}

/** Labels from the lead's start to a label, the shorter way round the clock: a cut may begin before the take, or after midnight. */
function labelsFrom(start: Timecode, label: string): number {
  const day = framesPerDay(start.format);
  const forward = (((parseLabel(label, start.format).frame - start.frame) % day) + day) % day;
  return 2 * forward > day ? forward - day : forward;
}

function placeCut(row: ShotRow, cutIn: number, cutOut: number, start: Timecode, perLabel: number): CutReading {
  const day = framesPerDay(start.format);
  // The two may lie on either side of the far end of the dial; a cut is never half a day long, so more means they are swapped.
  const length = (((cutOut - cutIn) % day) + day) % day;
  if (length === 0) return problem(row, 'cut_out', `${row.cutOut}, the same as cut_in`, 'the first frame after the cut', 'Correct the label: cut_out is exclusive.');
  if (2 * length > day) {
    return problem(row, 'cut_out', `${row.cutOut}, which lies before cut_in ${row.cutIn}`, 'the first frame after the cut', 'Correct the label, or swap the two.');
  }
  return { kind: 'cut', range: { start: cutIn * perLabel, end: (cutIn + length) * perLabel } };
}

function problem(row: ShotRow, column: string, found: string, expected: string, remedy: string): CutReading {
  const [, file = row.from, place = ''] = /^(.*),? (line \d+)$/s.exec(row.from) ?? [];
  return {
    kind: 'problem',
    problem: { code: 'unreadable-value', severity: 'warn', file, place: [place, `column ${column}`].filter((part) => part !== '').join(', '), found, expected, remedy },
  };
}
