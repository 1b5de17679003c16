import type { CameraMotion } from '../motion/classify.ts';
import { widthInPlatePx } from '../registration/plate-px.ts';
import { sampleOf } from '../split/study-split.ts';
import type { ClipFrames } from './clip-frames.ts';
import type { ClipMotion, ClipPicture, Told } from './match-picture.ts';

/** What a clip shows by itself, its motion in px of the lead's plate. */
export function clipPictureOf(clip: ClipFrames, lead: ClipFrames): ClipPicture {
  return { frames: clip.faults, motion: motionOf(clip.motion, clip, lead) };
}

const MOST_POINTS = 120;

function motionOf(motion: CameraMotion, { proxy, everyFrames }: ClipFrames, { raster }: ClipFrames): Told<ClipMotion> {
  if (motion.kind === 'cannot-tell') return { kind: 'cannot-tell', why: motion.why };
  const px = (value: number): number => widthInPlatePx(value, proxy, raster);
  const down = raster.height / proxy.height;
  const points = motion.kind === 'locked' ? [] : motion.steps.flatMap(({ frame, path }) => (path === undefined ? [] : [[frame * everyFrames, px(path.dx), path.dy * down] as const]));
  return {
    kind: 'measured',
    is: motion.kind,
    ...(motion.move === undefined ? {} : { move: motion.move }),
    stepPx: px(motion.stepPx),
    fromFirstPx: px(motion.fromFirstPx),
    bumps: motion.bumps.map(({ start, end, px: jump }) => ({ start: start * everyFrames, end: end * everyFrames, px: px(jump) })),
    everyFrames,
    path: sampleOf(points, MOST_POINTS),
  };
}
