import type { Farm } from '../../ports.ts';
import type { Mounts } from './mounts.ts';

/** Machines that share the work, and how this one names shared volumes. */
export interface FarmHands {
  readonly farm: Farm;
  readonly mounts: Mounts;
}
