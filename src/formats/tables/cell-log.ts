import type { ReadingProblem } from '../../core/material/finding.ts';
import type { Reading } from '../values/reading.ts';
import { quoted, tableProblem } from './table-problem.ts';

/** A cell: where it stands and what is written in it. */
export interface CellPlace {
  readonly line: number;
  readonly heading: string;
  readonly raw: string;
}

interface Assumption extends CellPlace {
  readonly assumed: string;
  readonly remedy?: string;
}

/** Keeps, over all cells of a table, what could not be read and what was taken for granted. */
export class CellLog {
  readonly #file: string;
  readonly #problems: ReadingProblem[] = [];
  readonly #assumptions: Assumption[] = [];

  constructor(file: string) {
    this.#file = file;
  }

  /** The value of a reading; undefined when there is none, after noting why. */
  value<T>(reading: Reading<T>, cell: CellPlace): T | undefined {
    if (reading.kind === 'blank') return undefined;
    if (reading.kind === 'unreadable') this.keep({ expected: reading.expected }, cell);
    else this.keep(reading, cell);
    return reading.kind === 'value' ? reading.value : undefined;
  }

  /** Notes what was expected of a cell, or assumed of it. */
  keep({ expected, assumed }: { readonly expected?: string; readonly assumed?: string }, { line, heading, raw }: CellPlace): void {
    if (expected !== undefined) this.#problems.push(unreadableCell(this.#file, line, heading, raw, expected));
    if (assumed !== undefined) this.#assumptions.push({ heading, line, raw, assumed });
  }

  /** Notes that a blank cell was taken to be as the one above. */
  carry({ line, heading, raw }: CellPlace): void {
    this.#assumptions.push({ heading, line, raw, assumed: 'carried down from the row above, where this cell is blank: assumed', remedy: 'Write it into each row to be sure.' });
  }

  /** Notes that a whole row is not used. */
  refuseRow(line: number, missing: string, expected: string): void {
    this.#problems.push(tableProblem(this.#file, `line ${line}`, `a row without a ${missing}`, expected, 'The row is not used. Fill it in.'));
  }

  /** All that was noted: cells and rows in their order, then one note for each assumption about a column. */
  get problems(): readonly ReadingProblem[] {
    return [...this.#problems, ...notesOfAssumptions(this.#file, this.#assumptions)];
  }
}

/** A cell no parser knows. The rest of the row still counts. */
function unreadableCell(file: string, line: number, heading: string, raw: string, expected: string): ReadingProblem {
  return tableProblem(file, `line ${line}, column "${heading}"`, quoted(raw), expected, 'The rest of the row counts. Correct the cell, or write it with its unit.');
}

/** One note for each column and assumption, at its first cell, with how many cells it concerns. */
function notesOfAssumptions(file: string, assumptions: readonly Assumption[]): readonly ReadingProblem[] {
  const groups = new Map<string, Assumption[]>();
  for (const assumption of assumptions) {
    const key = `${assumption.heading}\n${assumption.assumed}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [assumption]);
    else group.push(assumption);
  }
  return [...groups.values()].flatMap((group) => {
    const [first] = group;
    if (first === undefined) return [];
    const more = group.length === 1 ? '' : ` and ${group.length - 1} more ${group.length === 2 ? 'cell' : 'cells'}`;
    const place = `line ${first.line}, column "${first.heading}"`;
    return [tableProblem(file, place, `${quoted(first.raw)}${more}`, first.assumed, first.remedy ?? 'Write the unit in the cell or in the heading to be sure.', 'note')];
  });
}
