import type { ReadClip } from '../../core/material/clip.ts';
import type { FoundFile } from '../../ports.ts';

/** A clip that was read, and what the day needs beyond it to tell copies and growing files. */
export interface ClipReading {
  readonly clip: ReadClip;
  /** Its first and last file: two clips are copies when these hold the same bytes. One file for a movie. */
  readonly ends: readonly FoundFile[];
  /** Files of it that nothing proves whole. */
  readonly doubtful: readonly FoundFile[];
  /** Whether a file of it changed while the day was read. */
  readonly changed: boolean;
}
