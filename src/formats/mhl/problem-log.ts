import type { ReadingProblem, Severity } from '../../core/material/finding.ts';

/** What to do about a hash list that is wrong: nobody but its writer can put it right. */
export const ASK_AGAIN = 'ask whoever wrote it for the folder and its history again; do not mend a hash list by hand';

/** What is wrong with a path that must not be followed. */
export const LEAVE_IT = 'open nothing by that path; ask whoever wrote it for a new package';

/** Collects what is wrong with one file of a history. */
export interface ProblemLog {
  readonly problems: readonly ReadingProblem[];
  /** `warn` where nothing is lost by it, `stop` where the list can no longer be relied on. */
  invalid(severity: Severity, place: string, found: string, expected: string): void;
  unsafe(place: string, found: string, expected: string): void;
}

/** A log for one file; `file` is relative to the folder that is verified. */
export function problemLog(file: string): ProblemLog {
  const problems: ReadingProblem[] = [];
  return {
    problems,
    invalid: (severity, place, found, expected) => void problems.push({ code: 'manifest-invalid', severity, file, place, found, expected, remedy: ASK_AGAIN }),
    unsafe: (place, found, expected) => void problems.push({ code: 'path-unsafe', severity: 'stop', file, place, found, expected, remedy: LEAVE_IT }),
  };
}

/** A stranger's text as it may be shown: quoted, cut short, nothing in it that a terminal would obey. */
export function shown(text: string): string {
  const plain = text.replace(/[\p{Cc}\p{Cf}\p{Cs}]/gu, '\uFFFD');
  return `"${plain.length > 200 ? `${plain.slice(0, 200)}…` : plain}"`;
}

/** By file, then what is wrong with it, each once: the same on every machine. */
export function sortProblems(problems: readonly ReadingProblem[]): readonly ReadingProblem[] {
  const byKey = new Map(problems.map((problem) => [[problem.file, problem.code, problem.place, problem.found].join('\u0000'), problem]));
  return [...byKey].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([, problem]) => problem);
}
