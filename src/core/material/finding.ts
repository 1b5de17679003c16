import type { ClipId } from './clip-id.ts';

/** `stop`: it will fail, shoot again or do not turn over. `warn`: a person must look. `note`: worth knowing. */
export type Severity = 'stop' | 'warn' | 'note';

/** The codes, by group. They are part of the contract: add, never rename. */
export const FINDING_CODES = {
  reading: [
    'unreadable-clip', 'truncated-clip', 'still-growing', 'no-timecode', 'unreadable-value', 'sources-disagree', 'unknown-slate',
    'duplicate-clip', 'unused-row', 'unused-sidecar', 'unreadable-file',
  ],
  presence: [
    'missing-lead-pass', 'missing-swapped-pass', 'missing-clean-plate', 'missing-reference', 'unmatched-pass', 'ambiguous-match',
    'proposed-match', 'role-conflict', 'role-guessed',
  ],
  coverage: ['short-head', 'short-tail', 'no-overlap', 'frame-gap', 'clean-plate-short', 'sync-assumed', 'sync-contradicted'],
  rate: ['frame-rate-differs', 'sensor-rate-differs', 'timecode-format-differs', 'shutter-differs', 'length-disagrees'],
  clock: ['timecode-overlap', 'timecode-backwards'],
  lens: ['lens-differs', 'focal-length-differs', 'focus-differs', 'stop-differs', 'filter-differs', 'squeeze-differs', 'not-on-record'],
  camera: ['raster-differs', 'sensitivity-differs', 'white-balance-differs', 'codec-differs', 'camera-differs'],
  position: ['height-differs', 'tilt-differs', 'roll-differs', 'position-differs', 'move-differs'],
  picture: [
    'misregistered', 'exposure-differs', 'colour-differs', 'camera-moved', 'no-split-line', 'person-in-clean-plate', 'screen-spill',
    'screen-uneven', 'frozen-frames', 'black-frames',
  ],
  package: ['file-missing', 'file-altered', 'file-extra', 'sequence-hole', 'header-differs', 'manifest-invalid', 'path-unsafe'],
} as const;

export type FindingGroup = keyof typeof FINDING_CODES;
export type FindingCode = (typeof FINDING_CODES)[FindingGroup][number];

/** A number or a word with its unit ("px", "stops", "frames", "mm", "m", "°", "K", "fps", "" for words and codes). */
export interface Quantity {
  readonly value: number | string;
  readonly unit: string;
}

/**
 * One thing that is wrong, or worth knowing. `subject` lists clip ids, sorted; empty when it concerns a file that is no clip.
 * `consequence` says what the compositor (or the crew) will see; `remedy` what to do next; `evidence` where it was read.
 */
export interface Finding {
  readonly code: FindingCode;
  readonly severity: Severity;
  readonly subject: readonly ClipId[];
  readonly measured?: Quantity;
  readonly allowed?: Quantity;
  readonly consequence: string;
  readonly remedy: string;
  readonly evidence: readonly string[];
}

/**
 * Something in a file that could not be read, before it is known which set it concerns. `file` is relative to the media
 * root; `place` is "line 4, column T-Stop", "byte 1664", "element Lens"; empty when it is the file as a whole.
 */
export interface ReadingProblem {
  readonly code: FindingCode;
  readonly severity: Severity;
  readonly file: string;
  readonly place: string;
  readonly found: string;
  readonly expected: string;
  readonly remedy: string;
}
