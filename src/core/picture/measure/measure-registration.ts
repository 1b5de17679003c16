import type { LumaFrame } from '../frame.ts';
import { median } from '../pixels/order.ts';
import { checkParallax } from '../registration/parallax.ts';
import { inPlatePx, widthInPlatePx } from '../registration/plate-px.ts';
import type { Registered } from '../registration/register.ts';
import { register } from '../registration/register.ts';
import type { PassRegistration } from '../registration/register-passes.ts';
import { registerPasses } from '../registration/register-passes.ts';
import type { Similarity } from '../registration/similarity.ts';
import { largestMove, layOnto } from '../registration/similarity.ts';
import { sampleOf } from '../split/study-split.ts';
import type { ClipFrames } from './clip-frames.ts';
import type { MatchTask } from './match-task.ts';
import type { MatchPicture, PlateRegistration, Told } from './match-picture.ts';
import { untold } from './match-picture.ts';

/** One frame of the lead and the frame of the pass that lies under it. */
export interface FramePlaces {
  readonly lead: number;
  readonly pass: number;
}

/** How a pass lies on its lead. */
export interface Laid {
  readonly registration: Told<PlateRegistration>;
  /** In px of the proxy, when it was measured. */
  readonly found: PassRegistration | undefined;
  /** Every frame of the lead that matters and has a partner. */
  readonly pairs: readonly FramePlaces[];
  /** True when only the pairs of this offset may be compared, since the camera moves. */
  readonly moving: boolean;
}

const PAIRS = 3;
/** Below this nothing is resampled: it would only soften the picture. px of the proxy. */
const NOTHING_PX = 0.02;

/** Lays the pass on the lead: one answer for a camera that stands, the middle of several for one that moves. */
export function registerMatch({ lead, offset, range, movingCamera }: MatchTask, pass: ClipFrames, noise: number): Laid {
  const pairs = pairsOf(lead, pass, offset, range);
  const moving = movingCamera || lead.motion.kind === 'moving' || pass.motion.kind === 'moving';
  const none = (why: string): Laid => ({ registration: untold(why), found: undefined, pairs, moving });
  if (moving && pairs.length === 0) return none('the passes share no frame at this offset');
  const [firsts, seconds] = moving
    ? [sampleOf(pairs, PAIRS).map((pair) => lead.frame(pair.lead)), sampleOf(pairs, PAIRS).map((pair) => pass.frame(pair.pass))]
    : [sampleOf(pairs.length > 0 ? pairs.map((pair) => pair.lead) : lead.numbers, PAIRS).map(lead.frame), sampleOf(pairs.length > 0 ? pairs.map((pair) => pair.pass) : pass.numbers, PAIRS).map(pass.frame)];
  const found = moving ? registerEach(firsts, seconds, noise) : registerPasses(firsts, seconds, noise);
  if (found.kind === 'cannot-tell') return none(found.why);
  return { registration: { kind: 'measured', ...inPlate(found, lead) }, found, pairs, moving };
}

/** A frame of the pass as it lies on the lead; `into` may be given to be written over. */
export function layMatched(frame: LumaFrame, { found }: Laid, into?: Float32Array): LumaFrame {
  return layBy(frame, found, into);
}

/** A frame laid by a similarity, or as it is where that says nothing worth resampling for. */
export function layBy(frame: LumaFrame, similarity: Similarity | undefined, into?: Float32Array): LumaFrame {
  return similarity === undefined || largestMove(similarity, frame) < NOTHING_PX ? frame : layOnto(frame, similarity, into);
}

/** A registration of proxies in px of the plate. */
export function inPlate(found: PassRegistration, { proxy, raster }: ClipFrames): PlateRegistration {
  const { dx, dy, scale, rotationDeg } = inPlatePx(found, proxy, raster);
  return {
    dx, dy, scale, rotationDeg,
    largestPx: widthInPlatePx(largestMove(found, proxy), proxy, raster),
    uncertaintyPx: widthInPlatePx(found.uncertaintyPx, proxy, raster),
    ...(found.nullPx === undefined ? {} : { nullPx: widthInPlatePx(found.nullPx, proxy, raster) }),
    psr: found.psr, q: found.q, pairs: found.pairs, confidence: found.confidence,
  };
}

/** Whether near and far things lie apart, on three pairs: two of them must say so. */
export function parallaxOf(lead: ClipFrames, pass: ClipFrames, { found, pairs }: Laid): MatchPicture['parallax'] {
  if (found === undefined) return untold('the passes could not be registered');
  if (found.confidence === 'low') return untold('too much of the frame differs');
  const checks = sampleOf(pairs, 3).map((pair) => checkParallax(lead.frame(pair.lead), pass.frame(pair.pass), found));
  const tiles = Math.max(0, ...checks.map((check) => check.tiles.length));
  if (tiles < 3) return untold('too few places of the picture have texture both ways and nobody before them');
  const px = median(checks.map(({ largestPx }) => largestPx));
  return { kind: 'measured', largestPx: widthInPlatePx(px, lead.proxy, lead.raster), tiles, found: 2 * checks.filter((check) => check.found).length > checks.length };
}

function pairsOf(lead: ClipFrames, pass: ClipFrames, offset: number, range: MatchTask['range']): readonly FramePlaces[] {
  const there = new Set(pass.numbers);
  return lead.numbers.flatMap((number) => (number >= range.start && number < range.end && there.has(number + offset) ? [{ lead: number, pass: number + offset }] : []));
}

/** For a camera that moves: each pair by itself, the middle of them; frames of one pass do not lie on each other, so there is no null. */
function registerEach(lead: readonly LumaFrame[], pass: readonly LumaFrame[], noise: number): PassRegistration | { readonly kind: 'cannot-tell'; readonly why: string } {
  const answers: Registered[] = [];
  let why = 'no pair of frames';
  lead.forEach((frame, index) => {
    const other = pass[index];
    const answer = other === undefined ? undefined : register(frame, other, { noise, hypotheses: answers.slice(-1) });
    if (answer?.kind === 'measured') answers.push(answer);
    else if (answer !== undefined) why = answer.why;
  });
  if (2 * answers.length < lead.length || answers.length === 0) return untold(why);
  const middle = (key: 'dx' | 'dy' | 'scale' | 'rotationDeg' | 'gain' | 'offset' | 'psr' | 'q' | 'uncertaintyPx'): number => median(answers.map((answer) => answer[key]));
  const values = { dx: middle('dx'), dy: middle('dy'), scale: middle('scale'), rotationDeg: middle('rotationDeg'), gain: middle('gain'), offset: middle('offset'), psr: middle('psr'), q: middle('q'), uncertaintyPx: middle('uncertaintyPx') };
  return { kind: 'measured', ...values, pairs: answers.length, confidence: answers.some(({ confidence }) => confidence === 'low') ? 'low' : 'good' };
}
