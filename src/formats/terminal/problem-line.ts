import type { ReadingProblem } from '../../core/material/finding.ts';

/** "cut.edl, line 4: found X; expected Y. Remedy." */
export function problemLine({ file, place, found, expected, remedy }: ReadingProblem): string {
  return `${file}${place === '' ? '' : `, ${place}`}: found ${found}; expected ${sentence(expected)} ${sentence(remedy)}`.trim();
}

function sentence(text: string): string {
  return text === '' || /[.!?]$/u.test(text) ? text : `${text}.`;
}
