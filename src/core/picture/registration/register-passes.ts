import type { LumaFrame } from '../frame.ts';
import { median } from '../pixels/order.ts';
import type { Registered, Registration } from './register.ts';
import { register } from './register.ts';
import { largestMove } from './similarity.ts';

/** A registration of two passes over several frames, with what the same measurement says of a pass against itself. */
export interface PassRegistration extends Registered {
  /** The largest movement measured where there should be none, px of the proxy: frames of one pass against each other. Absent when each pass gave one frame. */
  readonly nullPx?: number;
  /** How many pairs of frames were measured. */
  readonly pairs: number;
}

/**
 * Registers two passes from three to five frames of each (pairs in order): the middle of the answers, never surer than three
 * times the null. A moving camera is registered frame by frame with `register` instead.
 */
export function registerPasses(lead: readonly LumaFrame[], swapped: readonly LumaFrame[], noise = 0): PassRegistration | Exclude<Registration, Registered> {
  const answers: Registered[] = [];
  let why = 'a pass has no frame';
  for (let i = 0; i < Math.min(lead.length, swapped.length); i++) {
    const [first, second] = [lead[i], swapped[i]];
    if (first === undefined || second === undefined) break;
    const answer = register(first, second, { noise, hypotheses: answers.slice(-1) });
    if (answer.kind === 'measured') answers.push(answer);
    else why = answer.why;
  }
  if (answers.length === 0 || answers.length < Math.min(lead.length, swapped.length) / 2) return { kind: 'cannot-tell', why };
  const nulls = [...nullMoves(lead, noise), ...nullMoves(swapped, noise)];
  const nullPx = nulls.length === 0 ? undefined : Math.max(...nulls);
  const middle = (key: 'dx' | 'dy' | 'scale' | 'rotationDeg' | 'gain' | 'offset' | 'psr' | 'q' | 'uncertaintyPx'): number => median(answers.map((answer) => answer[key]));
  return {
    kind: 'measured',
    dx: middle('dx'),
    dy: middle('dy'),
    scale: middle('scale'),
    rotationDeg: middle('rotationDeg'),
    gain: middle('gain'),
    offset: middle('offset'),
    psr: middle('psr'),
    q: middle('q'),
    confidence: answers.filter(({ confidence }) => confidence === 'low').length * 2 > answers.length ? 'low' : 'good',
    uncertaintyPx: Math.max(middle('uncertaintyPx'), 3 * (nullPx ?? 0)),
    ...(nullPx === undefined ? {} : { nullPx }),
    pairs: answers.length,
  };
}

/** How far frames of one pass seem to lie from its first: what the method cannot see beyond. */
function nullMoves(frames: readonly LumaFrame[], noise: number): readonly number[] {
  const [first, ...others] = frames;
  if (first === undefined) return [];
  return others.slice(-1).flatMap((other) => {
    const answer = register(first, other, { noise });
    return answer.kind === 'measured' ? [largestMove(answer, first)] : [];
  });
}
