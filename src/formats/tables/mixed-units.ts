import type { ReadingProblem } from '../../core/material/finding.ts';
import type { Field } from '../../core/material/statement.ts';
import { parseLength } from '../values/length.ts';
import { plainWord } from '../values/plain.ts';
import type { CellPlace } from './cell-log.ts';
import { quoted, tableProblem } from './table-problem.ts';

/** Distances, which crews write in metres as readily as in feet. */
const DISTANCES: readonly Field[] = ['focusDistance', 'cameraHeight', 'subjectDistance', 'backgroundDistance'];

/**
 * A column whose heading names no unit and whose cells do not agree: "5'6"" beside a bare "5.5". A bare number counts as metres, which beside feet is a guess
 * a person must look at.
 */
export function checkUnits(file: string, field: Field, cells: readonly CellPlace[]): readonly ReadingProblem[] {
  if (!DISTANCES.includes(field)) return [];
  const lengths = cells.map((cell) => ({ cell, length: parseLength(cell.raw) }));
  const other = lengths.find(({ cell, length }) => length?.kind === 'metres' && !isMetric(cell.raw))?.cell;
  const [bare, ...more] = lengths.filter(({ length }) => length?.kind === 'bare' && length.amount !== 0).map(({ cell }) => cell);
  if (other === undefined || bare === undefined) return [];
  const count = more.length === 0 ? '' : ` and ${more.length} more without a unit`;
  return [
    tableProblem(
      file, `line ${bare.line}, column "${bare.heading}"`, `${quoted(bare.raw)}${count}, beside ${quoted(other.raw)} in line ${other.line}`,
      'one unit in a column, or a unit in each cell: taken as metres', 'Write the unit into each cell, or into the heading.',
    ),
  ];
}

function isMetric(raw: string): boolean {
  return /\d ?m(?:tr|et(?:re|er)s?)?\.?$|\d ?m ?\d/.test(plainWord(raw));
}
