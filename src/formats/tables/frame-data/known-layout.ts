import { normaliseHeading } from '../../../core/material/heading.ts';
import type { Field } from '../../../core/material/statement.ts';
import type { MappedField, SidecarMapping } from '../../sidecars/mapping.ts';
import { readHeading } from '../../values/heading-unit.ts';
import { isUnknown } from '../../values/unknown.ts';
import type { Column } from '../columns.ts';
import { cellOf } from '../columns.ts';
import type { TableRow } from '../split-rows.ts';
import type { FrameLabel } from './continuity.ts';
import { findJumps } from './continuity.ts';
import { isTrackField } from './export-columns.ts';

/** The mapping of a camera export: of those whose headings are all there, the one that asks for most. */
export function findMapping(columns: readonly Column[], mappings: readonly SidecarMapping[], forms: readonly SidecarMapping['form'][]): SidecarMapping | undefined {
  const keys = new Set(columns.map(({ key }) => key));
  let best: SidecarMapping | undefined;
  for (const mapping of mappings) {
    const asked = headingsAsked(mapping);
    if (!forms.includes(mapping.form) || asked.length === 0 || !asked.every((heading) => keys.has(normaliseHeading(heading)))) continue;
    if (best === undefined || asked.length > headingsAsked(best).length) best = mapping;
  }
  return best;
}

/** The headings that must be there for a mapping to apply. */
function headingsAsked({ root, headings = [] }: SidecarMapping): readonly string[] {
  return root === undefined ? headings : [root, ...headings];
}

const TIME_COLUMNS = new Set(['timecode', 'tc', 'mastertc', 'sourcetc', 'frametc', 'frametimecode']);
const COUNTER_COLUMNS = new Set(['frame', 'framenumber', 'frameno', 'frameindex', 'index']);
/** What differs from row to row in a camera report, where a row is a clip. */
const NAMES_A_CLIP: ReadonlySet<Field> = new Set(['file', 'clip', 'slate', 'scene', 'setup', 'take', 'tcOut']);

/**
 * The columns of lens data with one row a frame of no known maker: its timecodes or frame numbers run on from row to row, no
 * column tells one clip from another, and something that changes along a take is there. Undefined for any other table.
 */
export function genericFrameFields(columns: readonly Column[], rows: readonly TableRow[], headings: Readonly<Record<string, Field>>): readonly MappedField[] | undefined {
  const mapped = columns.flatMap(({ heading, key }): MappedField[] => {
    const { field, unit } = readHeading(heading, headings);
    if (TIME_COLUMNS.has(key) || field === 'tcIn') return [{ field: 'tcIn', path: heading }];
    // A count of frames in such a table counts the rows.
    return field === undefined || field === 'frames' ? [] : [unit === undefined ? { field, path: heading } : { field, path: heading, unit }];
  });
  if (rows.length < 2 || !mapped.some(({ field }) => isTrackField(field))) return undefined;
  const column = (path: string): Column | undefined => columns.find(({ heading }) => heading === path);
  const tellsClipsApart = mapped.some(({ field, path }) => NAMES_A_CLIP.has(field) && differs(rows, column(path)));
  const time = mapped.find(({ field }) => field === 'tcIn');
  const runsOn = labelsRunOn(rows, time === undefined ? undefined : column(time.path)) || countsOn(rows, columns.find(({ key }) => COUNTER_COLUMNS.has(key)));
  return runsOn && !tellsClipsApart ? mapped : undefined;
}

function differs(rows: readonly TableRow[], column: Column | undefined): boolean {
  return column !== undefined && new Set(rows.map((row) => cellOf(row, column).trim()).filter((cell) => !isUnknown(cell))).size > 1;
}

/** Looks at the first rows only: a jump later on is a finding, not another kind of table. */
const LOOKED_ROWS = 6;

function labelsRunOn(rows: readonly TableRow[], column: Column | undefined): boolean {
  if (column === undefined) return false;
  const labels = rows.slice(0, LOOKED_ROWS).map((row): FrameLabel => ({ line: row.line, label: cellOf(row, column).trim() }));
  return labels.every(({ label }) => /^\d+[:;]\d+[:;]\d+[:;.]\d+$/.test(label)) && new Set(labels.map(({ label }) => label)).size > 1 && findJumps(labels).length === 0;
}

function countsOn(rows: readonly TableRow[], column: Column | undefined): boolean {
  if (column === undefined) return false;
  const counts = rows.slice(0, LOOKED_ROWS).map((row) => cellOf(row, column).trim());
  return counts.every((count, at) => /^\d{1,9}$/.test(count) && Number(count) === Number(counts[0]) + at);
}
