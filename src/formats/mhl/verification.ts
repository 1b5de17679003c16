import type { ReadingProblem } from '../../core/material/finding.ts';

/**
 * What a history says of a folder, and what was found. Problems are sorted by file; their codes are `file-missing`,
 * `file-altered`, `file-extra`, `manifest-invalid` and `path-unsafe`; `file` is relative to the folder. Nothing was written.
 */
export interface Verification {
  /** `none`: the folder holds no history, and nothing was hashed. */
  readonly history: 'read' | 'none';
  /** Generations in the folder's own history. */
  readonly generations: number;
  /** Files whose bytes agree with every digest on record. */
  readonly verifiedFiles: number;
  readonly hashedBytes: number;
  readonly problems: readonly ReadingProblem[];
}
