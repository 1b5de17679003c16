import type { FindingCode, ReadingProblem, Severity } from '../../core/material/finding.ts';

/** A problem in a table; a warning about a value unless said otherwise. */
export function tableProblem(
  file: string, place: string, found: string, expected: string, remedy: string, severity: Severity = 'warn', code: FindingCode = 'unreadable-value',
): ReadingProblem {
  return { code, severity, file, place, found, expected, remedy };
}

/** A cell's text as a message shows it: in quotes, on one line, cut after 80 characters. */
export function quoted(text: string): string {
  const oneLine = text.replace(/\s+/g, ' ').trim();
  const letters = oneLine.length > 80 ? [...oneLine.slice(0, 240)] : [];
  return `"${letters.length > 80 ? `${letters.slice(0, 79).join('')}…` : oneLine}"`;
}
