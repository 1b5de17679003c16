import type { ReadingProblem } from '../../../core/material/finding.ts';
import type { Statement } from '../../../core/material/statement.ts';
import { nominalBase } from '../../../core/timecode/rate.ts';
import { quoted, tableProblem } from '../table-problem.ts';
import type { FrameLabel } from './continuity.ts';
import { findJumps } from './continuity.ts';
import type { ExportRows, ReadColumn } from './export-columns.ts';
import { placeOf } from './export-columns.ts';

/** Cells of a column no parser knows, and what was taken for granted to read the others: one problem each, at the first such cell. */
export function checkCells(rows: ExportRows, { heading, cells }: ReadColumn): readonly ReadingProblem[] {
  const counted = (count: number): string => (count === 1 ? '' : ` and ${count - 1} more ${count === 2 ? 'row' : 'rows'}`);
  const unreadable = cells.filter(({ reading }) => reading.expected !== undefined);
  const assumed = cells.filter(({ reading }) => reading.assumed !== undefined);
  const [badCell, assumedCell] = [unreadable[0], assumed[0]];
  return [
    ...(badCell?.reading.expected === undefined ? [] : [tableProblem(
      rows.file, placeOf(rows, badCell.line, heading), `${quoted(badCell.raw)}${counted(unreadable.length)}`, badCell.reading.expected,
      'The rest of the export counts. Check the value on the camera or the lens.',
    )]),
    ...(assumedCell?.reading.assumed === undefined ? [] : [tableProblem(
      rows.file, placeOf(rows, assumedCell.line, heading), `${quoted(assumedCell.raw)}${counted(assumed.length)}`, assumedCell.reading.assumed,
      'Write the unit in the heading to be sure.', 'note',
    )]),
  ];
}

/** A setting that should stay the same through a clip and does not. */
export function changeProblem(rows: ExportRows, { heading, cells }: ReadColumn): ReadingProblem {
  const [first, ...rest] = cells.filter(({ reading }) => reading.statements.length > 0);
  const other = rest.find(({ raw }) => raw.trim() !== first?.raw.trim());
  return tableProblem(
    rows.file, placeOf(rows, other?.line ?? 0, heading), `${quoted(other?.raw ?? '')} after ${quoted(first?.raw ?? '')} in line ${first?.line ?? 0}`,
    'one value through the clip', 'The first is used. Check whether the camera was changed while it ran.', 'warn', 'sources-disagree',
  );
}

/** Timecodes that do not run on from row to row. */
export function checkLabels(rows: ExportRows, columns: readonly ReadColumn[], statements: readonly Statement[]): readonly ReadingProblem[] {
  const column = columns.find(({ mapped }) => mapped.field === 'tcIn');
  if (column === undefined) return [];
  const labels = column.cells.flatMap(({ line, reading: { statements: [label] } }): FrameLabel[] => (label?.field === 'tcIn' ? [{ line, label: label.value }] : []));
  const jumps = findJumps(labels, baseOf(statements));
  const [first] = jumps;
  if (first === undefined) return [];
  const more = jumps.length === 1 ? '' : ` (the first of ${jumps.length} such places)`;
  return [tableProblem(
    rows.file, placeOf(rows, first.to.line, column.heading), `${first.to.label} after ${first.from.label}${more}`, 'the next frame',
    'Frames are missing or the timecode jumped. Do not line passes up by timecode within this clip.', 'warn', 'frame-gap',
  )];
}

function baseOf(statements: readonly Statement[]): number | undefined {
  const rate = statements.find(({ field }) => field === 'timecodeRate') ?? statements.find(({ field }) => field === 'fps');
  return rate?.field === 'timecodeRate' || rate?.field === 'fps' ? nominalBase(rate.value) : undefined;
}

/** A stated length other than the number of rows. */
export function checkCount({ file, rows }: ExportRows, statements: readonly Statement[]): readonly ReadingProblem[] {
  const stated = statements.find(({ field }) => field === 'frames');
  if (stated?.field !== 'frames' || stated.value === rows.length) return [];
  const remedy = 'The export is cut short or the clip is. Export it again.';
  return [tableProblem(file, stated.source.place, `${rows.length} rows`, `${stated.value} frames as stated`, remedy, 'warn', 'length-disagrees')];
}
