import type { ReadingProblem } from '../../core/material/finding.ts';

const REMEDY = 'Correct the line, or export the list again.';

/** A problem of one line of an edit list. */
export function listProblem(file: string, line: number, found: string, expected: string, severity: 'warn' | 'note' = 'warn', remedy = REMEDY): ReadingProblem {
  return { code: 'unreadable-value', severity, file, place: `line ${line}`, found, expected, remedy };
}
