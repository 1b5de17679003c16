import type { FindingCode, ReadingProblem, Severity } from '../../core/material/finding.ts';

/** What is wrong with a sample, in words; the place is added where it is known. */
export interface Complaint {
  readonly found: string;
  readonly expected: string;
  readonly remedy: string;
}

/** Gathers problems of thousands of samples: one complaint is told once, with the first place and how often it came up. */
export class ProblemList {
  readonly #problems = new Map<string, { readonly problem: ReadingProblem; times: number }>();

  add(file: string, place: string, complaint: Complaint, severity: Severity = 'warn', code: FindingCode = 'unreadable-value'): void {
    const key = [file, code, severity, complaint.found, complaint.expected].join('\u0000');
    const known = this.#problems.get(key);
    if (known === undefined) this.#problems.set(key, { problem: { code, severity, file, place, ...complaint }, times: 1 });
    else known.times += 1;
  }

  /** In the order they were met. */
  list(): readonly ReadingProblem[] {
    return [...this.#problems.values()].map(({ problem, times }) => (times === 1 ? problem : { ...problem, found: `${problem.found} (${times} samples, this is the first)` }));
  }
}
