import type { LumaFrame } from '../frame.ts';
import { sameSize } from '../frame.ts';
import { gaussianBlur } from '../pixels/blur.ts';
import { gradient } from '../pixels/gradient.ts';
import { distinct, register } from '../registration/register.ts';
import type { FitPair } from '../registration/robust-fit.ts';
import { fitRobustly } from '../registration/robust-fit.ts';
import type { Similarity } from '../registration/similarity.ts';
import { compose, fromLinear, IDENTITY, toLinear } from '../registration/similarity.ts';
import type { CameraMotion, CameraStep } from './classify.ts';
import { classifyMotion } from './classify.ts';

/** Takes the frames of one pass as they come and answers at the end; keeps two frames, whatever the length. */
export interface CameraFollower {
  push(frame: LumaFrame): void;
  finish(): CameraMotion;
}

export interface FollowOptions {
  /** Spread of the noise in codes, when known. */
  readonly noise?: number;
  /** Every how many pixels are looked at, each way. Default 3: 9 times quicker than all and good to .01 px. */
  readonly stride?: number;
}

/** A frame blurred, with its slopes, as both ends of a fit need it. */
interface Prepared {
  readonly frame: LumaFrame;
  readonly blurred: Float32Array;
  readonly across: Float32Array;
  readonly down: Float32Array;
}

/** Every how many frames the picture is held against the first one, to see a slow creep that no step shows. */
const AGAINST_FIRST = 4;
const LEAST_AGREEING = 0.5;
/** Above this share no other start can do better. */
const UNDOUBTED = 0.8;

/**
 * Follows the camera through a pass by registering each frame to the one before and every fourth to the first (robust fit of
 * one dominant motion, as in Odobez and Bouthemy 1995).
 */
export function followCamera({ noise = 0, stride = 3 }: FollowOptions = {}): CameraFollower {
  const steps: CameraStep[] = [];
  let size = { width: 0, height: 0 };
  let first: Prepared | undefined;
  let before: Prepared | undefined;
  let spare: Prepared | undefined;
  let last: Similarity = IDENTITY;
  let path: Similarity | undefined = IDENTITY;
  return {
    push(frame) {
      // The first frame is kept, the others take turns; of one of another size nothing is written over.
      const now = prepare(frame, spare !== undefined && sameSize(spare.frame, frame) ? spare : makeRoom(frame));
      if (first === undefined || before === undefined) {
        size = frame;
        first = now;
        before = now;
        return;
      }
      const step = between(before, now, [last, IDENTITY], { noise, stride });
      path = step === undefined || path === undefined ? undefined : compose(step, path);
      const number = steps.length + 1;
      const fromFirst = number % AGAINST_FIRST === 0 ? between(first, now, path === undefined ? [IDENTITY] : [path, IDENTITY], { noise, stride }) : undefined;
      if (fromFirst !== undefined) path = fromFirst;
      steps.push({ frame: number, ...(step === undefined ? {} : { step }), ...(path === undefined ? {} : { path }), againstFirst: fromFirst !== undefined });
      spare = before === first ? undefined : before;
      before = now;
      if (step !== undefined) last = step;
    },
    finish: () => classifyMotion(steps, size),
  };
}

/** Whoever brings a frame may write it over, so it is copied. */
function prepare({ width, height, values }: LumaFrame, room: Prepared): Prepared {
  room.frame.values.set(values);
  gaussianBlur(room.frame, 1.2, room.blurred);
  gradient({ width, height, values: room.blurred }, room);
  return room;
}

function makeRoom({ width, height, values: { length } }: LumaFrame): Prepared {
  return { frame: { width, height, values: new Float32Array(length) }, blurred: new Float32Array(length), across: new Float32Array(length), down: new Float32Array(length) };
}

/** How `to` lies on `from`; phase correlation helps only where the near starts fail. Undefined when too little agrees. */
function between(from: Prepared, to: Prepared, starts: readonly Similarity[], { noise, stride }: Required<FollowOptions>): Similarity | undefined {
  if (!sameSize(from.frame, to.frame)) return undefined;
  const pair: FitPair = { width: from.frame.width, height: from.frame.height, first: from.blurred, across: from.across, down: from.down, second: to.blurred };
  const tolerance = Math.max(1, 2.5 * noise);
  let best: { readonly move: Similarity; readonly agreeing: number } | undefined;
  for (const start of distinct(starts)) {
    const fit = fitRobustly(pair, { move: toLinear(start), gain: 1, offset: 0 }, { stride, iterations: 12, tolerance });
    if (best === undefined || fit.agreeing > best.agreeing) best = { move: fromLinear(fit.move), agreeing: fit.agreeing };
    if (fit.agreeing >= UNDOUBTED) break;
  }
  if (best !== undefined && best.agreeing >= LEAST_AGREEING) return best.move;
  const answer = register(from.frame, to.frame, { noise, hypotheses: starts });
  return answer.kind === 'measured' && answer.confidence === 'good' ? answer : undefined;
}
