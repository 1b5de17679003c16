import type { Progress } from '../ports.ts';

/** What the command line hands in to be told how far the work is. */
export type ProgressSink = Progress;
