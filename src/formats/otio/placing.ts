import type { FrameRange } from '../../core/timecode/range.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import type { TimeFault } from './time.ts';

/** Where an item lies: the cut frame of its own time 0, the frames of the cut in which it is seen at all, and on which track. */
export interface Placing {
  readonly path: string;
  readonly zero: number;
  readonly window: FrameRange;
  readonly track: string;
  readonly disabled: boolean;
  readonly depth: number;
}

/** Frames of the cut that a transition shows of an item beyond its ends. */
export interface Seen {
  readonly head: number;
  readonly tail: number;
  readonly words?: string;
}

/** What a clip is read within: the file, the rate of the cut, the events before it, and where faults are told. */
export interface ClipContext {
  readonly file: string;
  readonly rate: FrameRate;
  readonly events: readonly unknown[];
  say(path: string, fault: TimeFault, severity?: 'warn' | 'note'): void;
}
