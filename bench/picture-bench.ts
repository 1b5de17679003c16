import { matchExposure } from '../src/core/picture/exposure/match-exposure.ts';
import type { LumaFrame } from '../src/core/picture/frame.ts';
import { followCamera } from '../src/core/picture/motion/follow-camera.ts';
import { checkPlate } from '../src/core/picture/plate/check-plate.ts';
import { register } from '../src/core/picture/registration/register.ts';
import { watchFrames } from '../src/core/picture/stream/watch-frames.ts';
import { makeScene } from '../tests/support/scene.ts';
import { benchSplit } from './split-bench.ts';

/** One measured part: ms of processor time, the best of some runs. */
export interface PictureFigure {
  readonly what: string;
  readonly ms: number;
}

/** Times the static measurements of one pair and the streaming ones over 240 frames, at 320 x 180, decoding apart. */
export function benchPicture(): readonly PictureFigure[] {
  const figures = (traded: boolean): readonly { readonly x: number; readonly height: number }[] => [{ x: traded ? 250 : 75, height: 105 }, { x: traded ? 75 : 250, height: 100 }];
  const { lead, swapped, clean } = makeScene({ lead: { figures: figures(false) }, swapped: { figures: figures(true), camera: { dx: 0.5 } } });
  const [first, second] = [lead[0], swapped[0]];
  if (first === undefined || second === undefined) throw new Error('a scene without frames');
  const long = Array.from({ length: 240 }, (_, i) => lead[i % lead.length] ?? first);
  return [
    { what: 'registering one pair', ms: bestOf(10, () => { register(first, second); }) },
    { what: 'exposure of one pair', ms: bestOf(10, () => { matchExposure(first, second, { kind: 'linear' }); }) },
    { what: 'clean plate, 12 frames a pass', ms: bestOf(3, () => { checkPlate(lead, swapped, clean, 1); }) },
    { what: 'camera motion, 240 frames', ms: bestOf(3, () => { streamed(long, followCamera()); }) },
    { what: 'frozen, black and flashed, 240 frames', ms: bestOf(3, () => { streamed(long, watchFrames({ kind: 'linear' })); }) },
    ...benchSplit(bestOf),
  ];
}

function streamed(frames: readonly LumaFrame[], accumulator: { push(frame: LumaFrame): void; finish(): unknown }): void {
  for (const frame of frames) accumulator.push(frame);
  accumulator.finish();
}

/** Processor time, not the clock: other work on the machine must not count. */
function bestOf(runs: number, work: () => void): number {
  work();
  let best = Infinity;
  for (let run = 0; run < runs; run++) {
    const before = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(before);
    best = Math.min(best, (user + system) / 1000);
  }
  return best;
}
