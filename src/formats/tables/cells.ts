import type { ReadingProblem } from '../../core/material/finding.ts';
import type { Reading } from '../values/reading.ts';
import { quoted, tableProblem } from './table-problem.ts';

/** What was taken for granted about one cell of a column. */
export interface Assumption {
  readonly heading: string;
  readonly line: number;
  readonly raw: string;
  readonly assumed: string;
}

/** A cell no parser knows. The rest of the row still counts. */
export function unreadableCell(file: string, line: number, heading: string, raw: string, expected: string): ReadingProblem {
  return tableProblem(file, `line ${line}, column "${heading}"`, quoted(raw), expected, 'The rest of the row counts. Correct the cell, or write it with its unit.');
}

/** One note for each column and assumption, at its first cell, with how many cells it concerns. */
export function notesOfAssumptions(file: string, assumptions: readonly Assumption[]): readonly ReadingProblem[] {
  const groups = new Map<string, Assumption[]>();
  for (const assumption of assumptions) {
    const key = `${assumption.heading}\n${assumption.assumed}`;
    groups.set(key, [...(groups.get(key) ?? []), assumption]);
  }
  return [...groups.values()].flatMap((group) => {
    const [first] = group;
    if (first === undefined) return [];
    const more = group.length === 1 ? '' : ` and ${group.length - 1} more ${group.length === 2 ? 'cell' : 'cells'}`;
    return [tableProblem(file, `line ${first.line}, column "${first.heading}"`, `${quoted(first.raw)}${more}`, first.assumed, 'Write the unit in the cell or in the heading to be sure.', 'note')];
  });
}

/** Collects what one row says: `value` returns what a reading holds and keeps the rest for the report. */
export class RowReader {
  readonly problems: ReadingProblem[] = [];
  readonly assumptions: Assumption[] = [];
  readonly #file: string;

  constructor(file: string) {
    this.#file = file;
  }

  /** The value of a reading; undefined when there is none, after noting why. */
  value<T>(reading: Reading<T>, line: number, heading: string, raw: string): T | undefined {
    if (reading.kind === 'unreadable') this.problems.push(unreadableCell(this.#file, line, heading, raw, reading.expected));
    if (reading.kind !== 'value') return undefined;
    if (reading.assumed !== undefined) this.assumptions.push({ heading, line, raw, assumed: reading.assumed });
    return reading.value;
  }
}
