import { normaliseHeading } from '../../core/material/heading.ts';
import type { Field } from '../../core/material/statement.ts';
import type { SidecarMapping } from '../sidecars/mapping.ts';
import { readHeading } from '../values/heading-unit.ts';
import type { Column } from './columns.ts';
import { moveHeading } from './move-marks.ts';
import { shotHeading } from './shot-rows.ts';

/** What a table turned out to be, told by its headings. `unknown`: nothing in it was read, and a problem says why. */
export type TableKind = 'report' | 'shot-list' | 'move-notes' | 'frame-data' | 'unknown';

/** What tables are told apart by: the pipeline's headings (normalised) and the camera exports it knows. */
export interface Known {
  readonly headings: Readonly<Record<string, Field>>;
  readonly mappings: readonly SidecarMapping[];
}

/** Whether a cell is a heading of any table gemel reads. */
export function headingTest({ headings, mappings }: Known): (cell: string) => boolean {
  const mapped = new Set(mappings.flatMap(({ root = '', headings: asked = [], fields }) => [root, ...asked, ...fields.map(({ path }) => path)]).map(normaliseHeading));
  mapped.delete('');
  return (cell) => {
    if (cell.length > 60) return false;
    const key = normaliseHeading(cell);
    return mapped.has(key) || shotHeading(key) !== undefined || readHeading(cell, headings).field !== undefined || moveHeading(cell) !== undefined;
  };
}

/** Fields of which at least one must be there to tell which clip a row speaks of. */
const IDENTIFYING: ReadonlySet<Field> = new Set(['file', 'clip', 'slate', 'scene', 'setup', 'take', 'roll', 'reel', 'tcIn']);

/** What a camera report says of a clip and a shot list does not of a shot. */
const OF_A_CLIP: ReadonlySet<Field> = new Set(['file', 'clip', 'roll', 'pass', 'circled', 'tcIn', 'tcOut', 'fps', 'lens', 'focalLength', 'stop']);

/** What the headings make of a table that is no camera export. */
export function kindOf(columns: readonly Column[], headings: Known['headings']): Exclude<TableKind, 'frame-data'> {
  const shot = new Set(columns.map(({ key }) => shotHeading(key)));
  const marks = new Set(columns.map(({ heading }) => moveHeading(heading)?.name));
  const fields = new Set(columns.map(({ heading }) => readHeading(heading, headings).field));
  const hasAny = <T>(set: ReadonlySet<T>, names: Iterable<T>): boolean => [...names].some((name) => set.has(name));
  if (marks.has('mark') && hasAny(marks, ['tc', 'time', 'x', 'y', 'z', 'pan', 'tilt'])) return 'move-notes';
  if (shot.has('shot') && (hasAny(shot, ['cutIn', 'cutOut', 'vendor']) || (shot.has('slate') && !hasAny(fields, OF_A_CLIP)))) return 'shot-list';
  return hasAny(fields, IDENTIFYING) ? 'report' : 'unknown';
}

/** Whether a column is read in a table of this kind. A camera export has many that are none of gemel's business: all count as read. */
export function isReadAs(kind: TableKind, heading: string, headings: Known['headings']): boolean {
  switch (kind) {
    case 'report': return readHeading(heading, headings).field !== undefined;
    case 'shot-list': return shotHeading(normaliseHeading(heading)) !== undefined;
    case 'move-notes': return moveHeading(heading) !== undefined;
    case 'frame-data':
    case 'unknown': return true;
    default: return kind satisfies never;
  }
}
