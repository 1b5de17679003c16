import type { LumaFrame } from '../frame.ts';
import { sameSize } from '../frame.ts';
import { correlatePhases } from './phase-correlation.ts';
import type { Fit, FitPair, JudgedFit } from './robust-fit.ts';
import { fitPair, fitRobustly } from './robust-fit.ts';
import type { Similarity } from './similarity.ts';
import { fromLinear, IDENTITY, layOnto, toLinear } from './similarity.ts';

/** How the swapped picture lies on the lead picture, in px of the proxy, and how far that is to be trusted. */
export interface Registered extends Similarity {
  readonly kind: 'measured';
  /** Peak to sidelobe ratio of the phase correlation: 24 and more for a set-up shot again, at most 8 for unrelated pictures. */
  readonly psr: number;
  /** Share of pixels, 0 to 1, that agree once the pictures lie on each other. */
  readonly q: number;
  readonly uncertaintyPx: number;
  /** swapped = gain * lead + offset, in codes: a by-product; `matchExposure` measures it better. */
  readonly gain: number;
  readonly offset: number;
  /** 'low' when more than half of the frame differs. */
  readonly confidence: 'good' | 'low';
}

export interface CannotTell {
  readonly kind: 'cannot-tell';
  readonly why: string;
}

export type Registration = Registered | CannotTell;

export interface RegisterOptions {
  /** Further starts worth trying, such as the answer for the frame before. */
  readonly hypotheses?: readonly Similarity[];
  /** Spread of the noise in codes, when it is known; a pixel agrees within 1 code or 2.5 spreads. */
  readonly noise?: number;
}

/** A set-up shot again stands out by 24 spreads and more, an unrelated picture by at most 8. */
const PSR_ACCEPTED = 12;
const PSR_TRIED = 8;
/** Related pictures agree in .53 to .9 of their pixels, unrelated ones in at most .32. */
const Q_ACCEPTED = 0.5;
const Q_LOW = 0.35;
/** Above this share nothing else can be true; below it, coarser blurs are tried too and the answer is checked. */
const Q_UNDOUBTED = 0.8;
/** What a check may find left over, px; large figures pull phase correlation by up to a tenth. */
const LEFT_OVER_PX = 0.5;
/** Beyond this scale or turn the blurs of the two pictures no longer match, and answers were off by up to .2 px. */
const [FAR_SCALE, FAR_TURN_DEG] = [0.12, 5];
/** Below this share the accepted answers were off by up to .092 px, above it by .014. */
const Q_SURE = 0.6;

/**
 * Registers the swapped picture to the lead picture: phase correlation finds candidates (Kuglin and Hines 1975), a robust
 * Gauss-Newton fit of shift, scale and turn settles them, and the candidate with most agreeing pixels is kept. Pictures that
 * do not show the same place are answered with `cannot-tell`.
 */
export function register(lead: LumaFrame, swapped: LumaFrame, { hypotheses = [], noise = 0 }: RegisterOptions = {}): Registration {
  if (!sameSize(lead, swapped)) return { kind: 'cannot-tell', why: `the pictures differ in size: ${lead.width} x ${lead.height} and ${swapped.width} x ${swapped.height}` };
  if (lead.width < 32 || lead.height < 32) return { kind: 'cannot-tell', why: 'the pictures are smaller than 32 x 32' };
  const { psr, peaks } = correlatePhases(lead, swapped);
  if (psr < PSR_TRIED) return { kind: 'cannot-tell', why: `not the same picture: the best match stands out by ${psr.toFixed(1)} spreads, ${PSR_TRIED} are needed` };
  const tolerance = Math.max(1, 2.5 * noise);
  const starts = distinct([IDENTITY, ...hypotheses, ...peaks.map(({ dx, dy }) => ({ ...IDENTITY, dx, dy }))]);
  const fit = bestFit(lead, swapped, { starts, tolerance, large: psr < PSR_ACCEPTED });
  const answer = judge(fit, psr);
  if (answer.kind === 'cannot-tell' || answer.q >= Q_UNDOUBTED || liesOn(lead, swapped, answer)) return answer;
  return { kind: 'cannot-tell', why: 'laid onto each other by the best answer found, the pictures still do not fit' };
}

/** Bare walls agree wherever they lie, so a doubtful answer must also leave nothing for phase correlation to find. */
function liesOn(lead: LumaFrame, swapped: LumaFrame, answer: Similarity): boolean {
  const { psr, peaks } = correlatePhases(lead, layOnto(swapped, answer));
  const left = peaks[0];
  return psr >= PSR_ACCEPTED && left !== undefined && Math.hypot(left.dx, left.dy) <= LEFT_OVER_PX;
}

function startAt(similarity: Similarity): Fit {
  return { move: toLinear(similarity), gain: 1, offset: 0 };
}

interface Search {
  readonly starts: readonly Similarity[];
  readonly tolerance: number;
  /** True when a large scale or turn is likely and coarse blurs must lead the way. */
  readonly large: boolean;
}

function bestFit(lead: LumaFrame, swapped: LumaFrame, { starts, tolerance, large }: Search): JudgedFit | undefined {
  const pair = fitPair(lead, swapped, 1.2);
  const near = mostAgreeing(starts.map((start) => fitRobustly(pair, startAt(start), { stride: 6, iterations: 12, tolerance })));
  const settle = (fit: Fit): JudgedFit => fitRobustly(pair, fit, { stride: 2, iterations: 20, tolerance, fine: true });
  const settled = near === undefined ? undefined : settle(near);
  if (!large && settled !== undefined && settled.agreeing >= Q_UNDOUBTED) return settled;
  const coarse = [4, 2.2].map((blur) => fitPair(lead, swapped, blur));
  const far = mostAgreeing(starts.slice(0, 3).map((start) => climb(coarse, startAt(start), tolerance)));
  return mostAgreeing([settled, far === undefined ? undefined : settle(far)].filter((fit) => fit !== undefined));
}

/** From coarse blurs to finer ones, each fit the start of the next. */
function climb(levels: readonly FitPair[], start: Fit, tolerance: number): JudgedFit {
  return levels.reduce<JudgedFit>((fit, level) => fitRobustly(level, fit, { stride: 4, iterations: 25, tolerance }), { ...start, agreeing: 0 });
}

function mostAgreeing(fits: readonly JudgedFit[]): JudgedFit | undefined {
  let best: JudgedFit | undefined;
  for (const fit of fits) if (best === undefined || fit.agreeing > best.agreeing) best = fit;
  return best;
}

/** Those that lie apart: starts within a third of a pixel of an earlier one lead to the same place. */
export function distinct(starts: readonly Similarity[]): readonly Similarity[] {
  const kept: Similarity[] = [];
  for (const start of starts) {
    const close = kept.some((other) => Math.hypot(other.dx - start.dx, other.dy - start.dy) < 0.33 && Math.abs(other.scale - start.scale) < 0.002 && Math.abs(other.rotationDeg - start.rotationDeg) < 0.1);
    if (!close) kept.push(start);
  }
  return kept;
}

function judge(fit: JudgedFit | undefined, psr: number): Registration {
  const q = fit?.agreeing ?? 0;
  if (fit === undefined || q < Q_LOW) return { kind: 'cannot-tell', why: `not the same picture, or too much of it differs: ${Math.round(100 * q)} % of it agrees, ${100 * Q_LOW} % are needed` };
  const similarity = fromLinear(fit.move);
  const far = Math.abs(similarity.scale - 1) > FAR_SCALE || Math.abs(similarity.rotationDeg) > FAR_TURN_DEG;
  const uncertaintyPx = far || q < Q_ACCEPTED ? 0.25 : q < Q_SURE ? 0.1 : 0.03;
  return { kind: 'measured', ...similarity, psr, q, uncertaintyPx, gain: fit.gain, offset: fit.offset, confidence: q < Q_ACCEPTED ? 'low' : 'good' };
}
