import type { LumaFrame } from '../src/core/picture/frame.ts';
import type { FramePair } from '../src/core/picture/split/still.ts';
import { studySplit } from '../src/core/picture/split/study-split.ts';
import { syncBySound } from '../src/core/picture/sync/sync-by-sound.ts';
import { gaussianFrom, randomFrom } from '../tests/support/random.ts';
import { makeScene } from '../tests/support/scene.ts';
import type { Figure } from '../tests/support/scene-figure.ts';
import type { PictureFigure } from './picture-bench.ts';

const FRAMES = 240;

/** Times the split line over 240 frames a pass at 320 x 180, registered before, and the sync of two guide tracks of a minute. */
export function benchSplit(bestOf: (runs: number, work: () => void) => number): readonly PictureFigure[] {
  const standing = staged(() => 85, () => 235);
  const walking = staged((t) => 60 + 0.42 * t, (t) => 165 + 0.42 * t);
  const [first, second] = [noise(1), noise(1)];
  return [
    { what: 'static split line, 240 frames', ms: bestOf(3, () => { studySplit(standing.pairs, standing.plate); }) },
    { what: 'moving split line, 240 frames', ms: bestOf(3, () => { studySplit(walking.pairs, walking.plate); }) },
    { what: 'sync by sound, 60 s', ms: bestOf(3, () => { syncBySound(first, second, { rate: { num: 24, den: 1 }, windowS: 4 }); }) },
  ];
}

function staged(left: (frame: number) => number, right: (frame: number) => number): { readonly pairs: readonly FramePair[]; readonly plate: LumaFrame } {
  const figures = (tones: readonly [number, number]): readonly Figure[] => [{ x: left, height: 105, tone: tones[0], stride: 24 }, { x: right, height: 105, tone: tones[1], stride: 31 }];
  const scene = makeScene({ frames: FRAMES, lead: { figures: figures([35, 215]) }, swapped: { figures: figures([215, 35]) }, clean: { frames: 1 } });
  const [plate] = scene.clean;
  if (plate === undefined) throw new Error('a scene without a clean plate');
  return { pairs: scene.lead.flatMap((lead, frame) => scene.swapped.slice(frame, frame + 1).map((swapped) => ({ frame, lead, swapped }))), plate };
}

function noise(seed: number): Float32Array {
  const gaussian = gaussianFrom(randomFrom(seed));
  return Float32Array.from({ length: 60 * 8000 }, () => 0.1 * gaussian());
}
