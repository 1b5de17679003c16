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
  if (oneLine.length <= 80) return `"${oneLine}"`;
  // Half a surrogate pair at the cut would be no character.
  return `"${oneLine.slice(0, 79).replace(/[\uD800-\uDBFF]$/, '')}…"`;
}
