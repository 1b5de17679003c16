import type { ReadingProblem } from '../../core/material/finding.ts';
import type { Field } from '../../core/material/statement.ts';
import type { LengthUnit } from '../values/length.ts';
import { parseLength, toMetres } from '../values/length.ts';
import { plainWord } from '../values/plain.ts';
import type { CellPlace } from './cell-log.ts';
import { quoted, tableProblem } from './table-problem.ts';

/** Distances, which crews write in metres as readily as in feet. */
const DISTANCES: readonly Field[] = ['focusDistance', 'cameraHeight', 'subjectDistance', 'backgroundDistance'];

/** Whether bare numbers of a field can be of several units. A lens is engraved in millimetres. */
export function isDistance(field: Field): boolean {
  return DISTANCES.includes(field);
}

/** A cell, and the run of rows without an empty line between them that it stands in. */
export interface ColumnCell extends CellPlace {
  readonly block: number;
}

/** The unit a bare number is taken in; `assumed` says so, absent where a problem of its own does. */
export interface TakenUnit {
  readonly unit: LengthUnit;
  readonly assumed?: string;
}

/** The units of bare numbers by line, and a problem for those that do not fit what is written beside them. */
export interface ColumnUnits {
  readonly taken: ReadonlyMap<number, TakenUnit>;
  readonly problems: readonly ReadingProblem[];
}

/** Ten times as far, or a tenth: then the unit is most likely another one. Common practice, no source. */
const LIKELY = 10;
/** Where the column's unit is this far off and metres come this near, metres were meant. */
const FAR_OFF = 3;
const NEAR = 1.5;
/** See `readDistance`: a larger bare number is not taken as metres. */
const LARGEST_BARE_METRES = 30;

/**
 * The units of a column whose heading names none. A bare number takes the unit that the cells of its block (else of the whole column) share, as
 * long as it makes a distance like theirs; among several units, or where only metres make one, it is taken as metres, which a person must look at.
 */
export function settleUnits(file: string, cells: readonly ColumnCell[]): ColumnUnits {
  const taken = new Map<number, TakenUnit>();
  const doubtful: { readonly cell: ColumnCell; readonly other: CellPlace }[] = [];
  const { whole, blocks } = marksOf(cells);
  for (const cell of whole === undefined ? [] : cells) {
    const length = parseLength(cell.raw);
    const beside = blocks.get(cell.block) ?? whole;
    if (length?.kind !== 'bare' || length.amount === 0 || beside === undefined) continue;
    const unit = unitBeside(Math.abs(length.amount), beside);
    if (unit !== undefined) taken.set(cell.line, { unit, assumed: `no unit is written: taken as ${UNIT_NAMES[unit]}, as beside it in the column` });
    else if (Math.abs(length.amount) <= LARGEST_BARE_METRES) {
      taken.set(cell.line, { unit: 'm' });
      doubtful.push({ cell, other: beside.example });
    }
  }
  return { taken, problems: problemOf(file, doubtful) };
}

const UNIT_NAMES: Readonly<Record<LengthUnit, string>> = { mm: 'millimetres', cm: 'centimetres', m: 'metres', in: 'inches', ft: 'feet' };

/** What the cells with a unit have in common: their units, how far they go in metres, and one of them to show. */
interface Marks {
  readonly units: ReadonlySet<LengthUnit>;
  readonly least: number;
  readonly most: number;
  readonly example: ColumnCell;
}

function marksOf(cells: readonly ColumnCell[]): { readonly whole: Marks | undefined; readonly blocks: ReadonlyMap<number, Marks> } {
  let whole: Marks | undefined;
  const blocks = new Map<number, Marks>();
  for (const cell of cells) {
    const length = parseLength(cell.raw);
    if (length?.kind !== 'metres') continue;
    whole = withMark(whole, cell, Math.abs(length.metres));
    blocks.set(cell.block, withMark(blocks.get(cell.block), cell, Math.abs(length.metres)));
  }
  return { whole, blocks };
}

function withMark(marks: Marks | undefined, cell: ColumnCell, metres: number): Marks {
  const unit = unitOf(cell.raw);
  if (marks === undefined) return { units: new Set([unit]), least: metres, most: metres, example: cell };
  const example = unitOf(marks.example.raw) === 'm' ? cell : marks.example;
  const units = marks.units.has(unit) ? marks.units : new Set([...marks.units, unit]);
  return { units, least: Math.min(marks.least, metres), most: Math.max(marks.most, metres), example };
}

/** The unit of a length that has one; feet and inches count as feet. */
function unitOf(raw: string): LengthUnit {
  const plain = plainWord(raw);
  if (/\d ?m(?:tr|et(?:re|er)s?)?\.?$|\d ?m ?\d/.test(plain)) return 'm';
  if (/'|ft|f(?:ee|oo)t/.test(plain)) return 'ft';
  if (/c(?:m|enti)/.test(plain)) return 'cm';
  return /m(?:m|illi)/.test(plain) ? 'mm' : 'in';
}

/** The one unit of the cells beside, when it makes a distance like theirs of the amount. */
function unitBeside(amount: number, beside: Marks): LengthUnit | undefined {
  const [unit, ...others] = beside.units;
  if (unit === undefined || others.length > 0) return undefined;
  if (unit === 'm') return amount <= LARGEST_BARE_METRES ? unit : undefined;
  const off = timesOff(toMetres(amount, unit), beside);
  const metresMeant = off > FAR_OFF && amount <= LARGEST_BARE_METRES && timesOff(amount, beside) < NEAR;
  return off > LIKELY || metresMeant ? undefined : unit;
}

/** How many times larger than the largest of those beside, or smaller than the smallest; 1 between them. */
function timesOff(metres: number, { least, most }: Marks): number {
  return Math.max(1, metres / most, least / metres);
}

function problemOf(file: string, [first, ...more]: readonly { readonly cell: ColumnCell; readonly other: CellPlace }[]): readonly ReadingProblem[] {
  if (first === undefined) return [];
  const { cell, other } = first;
  const count = more.length === 0 ? '' : ` and ${more.length} more without a unit`;
  return [
    tableProblem(
      file, `line ${cell.line}, column "${cell.heading}"`, `${quoted(cell.raw)}${count}, beside ${quoted(other.raw)} in line ${other.line}`,
      'one unit in a column, or a unit in each cell: taken as metres', 'Write the unit into each cell, or into the heading.',
    ),
  ];
}
