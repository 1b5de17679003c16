import type { Encoding } from '../exposure/encoding.ts';
import type { LumaFrame } from '../frame.ts';
import type { FrameFaults } from './judge-frames.ts';
import { judgeFrames } from './judge-frames.ts';
import type { FrameNumbers } from './measure-frame.ts';
import { measureFrame } from './measure-frame.ts';

/** Takes the frames of one clip as they come and answers at the end; keeps one frame and a few numbers for each other. */
export interface FrameWatcher {
  /** A frame may be written over once the next but one comes. @param hash of the whole decoded frame, when it was taken: equal hashes are the proof of a repeated frame. */
  push(frame: LumaFrame, hash?: string): void;
  finish(): FrameFaults;
}

/** Watches a clip for frozen, repeated, black and flashed frames. `encoding` says how many codes a flash of one stop is. */
export function watchFrames(encoding: Encoding): FrameWatcher {
  const numbers: FrameNumbers[] = [];
  let before: { readonly frame: LumaFrame; readonly hash: string | undefined } | undefined;
  return {
    push(frame, hash) {
      const sameHash = hash === undefined || before?.hash === undefined ? undefined : hash === before.hash;
      numbers.push(measureFrame(frame, before?.frame, sameHash));
      before = { frame, hash };
    },
    finish: () => judgeFrames(numbers, encoding),
  };
}
