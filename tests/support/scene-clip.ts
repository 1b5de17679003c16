import type { LumaFrame } from '../../src/core/picture/frame.ts';
import type { ClipFrames } from '../../src/core/picture/measure/clip-frames.ts';
import { BT709 } from '../../src/core/picture/measure/clip-frames.ts';
import { followCamera } from '../../src/core/picture/motion/follow-camera.ts';
import { watchFrames } from '../../src/core/picture/stream/watch-frames.ts';

/** The raster that a scene stands for: six times its proxy of 320 x 180. */
const SCENE_RASTER = { width: 1920, height: 1080 };

/** Drawn frames as a clip that was decoded: followed and watched frame by frame, without colour and sound. */
export function clipOfScene(frames: readonly LumaFrame[]): ClipFrames {
  const [first] = frames;
  if (first === undefined) throw new Error('a clip without frames');
  const [follower, watcher] = [followCamera(), watchFrames(BT709)];
  for (const frame of frames) {
    follower.push(frame);
    watcher.push(frame);
  }
  const frameInto = (number: number, into: Float32Array): LumaFrame => {
    into.set(frames[number]?.values ?? []);
    return { ...first, values: into };
  };
  return {
    raster: SCENE_RASTER, proxy: { width: first.width, height: first.height }, numbers: [...frames.keys()], frame: (number) => frameInto(number, new Float32Array(first.values.length)), frameInto,
    colour: new Map(), sound: undefined, encoding: BT709, faults: watcher.finish(), motion: follower.finish(), everyFrames: 1,
  };
}
