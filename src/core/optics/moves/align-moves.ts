import type { PicturePoint } from '../projection.ts';
import { centreShift } from './frame-difference.ts';
import type { Posed } from './posed-move.ts';
import { poseAt } from './posed-move.ts';

/**
 * How much later the second move does what the first does, in frames (below 0: earlier), give or take `sdFrames`; and how fast it runs beside the first
 * (0.97: 3 % slower), 1 unless another speed explains the difference clearly better.
 */
export type Timing =
  | { readonly kind: 'found'; readonly lateFrames: number; readonly sdFrames: number; readonly speed: number }
  | { readonly kind: 'not-determinable'; readonly why: string };

/** Two moves laid over each other: frame of the second = frame of the first + offset. `nearness` is 1/distance (per mm) of the plane the middle is followed on. */
export interface Overlay {
  readonly first: readonly Posed[];
  readonly second: readonly Posed[];
  readonly offset: number;
  readonly nearness: number;
}

/** Frames of the first used for the search, first by whole frames, then finely; more make it no better than the noise of the samples. */
const COARSE_FRAMES = 200;
const FINE_FRAMES = 400;
/** Below this speed (px a frame, less its mean) half a frame of delay moves nothing a person could see. */
const LEAST_SPEED_PX = 0.1;
const WORST_SD_FRAMES = 0.5;
/** A speed is believed when it takes away a fifth of what a delay alone leaves, lies within a tenth, and moves the ends by a quarter of a frame. */
const WORTHWHILE = 0.8;
const MOST_SPEED_OFF = 0.1;
const LEAST_STRETCH_FRAMES = 0.25;

/**
 * The delay (and speed) that leaves the least variance of the middle of the picture over the frames. Variance, not mean square: a constant framing
 * error then has no say. Searched frame by frame within a second either way, then by least squares.
 */
export function alignMoves(overlay: Overlay, fps: number): Timing {
  const frames = thinned(overlay.first, FINE_FRAMES);
  const start = coarse(overlay, thinned(overlay.first, COARSE_FRAMES), Math.round(fps));
  if (start === undefined) return { kind: 'not-determinable', why: 'the two share too few frames' };
  const delayed = refine(overlay, frames, { late: start, stretch: 0 }, false);
  if (delayed === undefined) return { kind: 'not-determinable', why: 'the two share too few frames' };
  const stretched = refine(overlay, frames, delayed.fit, true);
  const isStretched = stretched !== undefined && explainsMore(stretched, delayed, overlay.first.length);
  const best = isStretched ? stretched : delayed;
  const speedPx = Math.sqrt(best.information / best.count);
  if (speedPx < LEAST_SPEED_PX) return { kind: 'not-determinable', why: 'the camera hardly moves, or at one speed throughout: a delay looks like another framing' };
  const sdFrames = Math.sqrt(best.variance / ((best.information * overlay.first.length) / frames.length));
  if (sdFrames > WORST_SD_FRAMES) return { kind: 'not-determinable', why: 'the two moves differ by more than a delay explains' };
  return { kind: 'found', lateFrames: best.fit.late + 0, sdFrames, speed: isStretched ? 1 / (1 + best.fit.stretch) : 1 };
}

function explainsMore(stretched: Fitted, delayed: Fitted, frames: number): boolean {
  const { stretch } = stretched.fit;
  return stretched.variance < WORTHWHILE ** 2 * delayed.variance && Math.abs(1 / (1 + stretch) - 1) <= MOST_SPEED_OFF && (Math.abs(stretch) * frames) / 2 >= LEAST_STRETCH_FRAMES;
}

interface Fit {
  readonly late: number;
  /** Frames of the second for one of the first, less 1. */
  readonly stretch: number;
}

interface Fitted {
  readonly fit: Fit;
  /** Of the middle of the picture, px², over the frames. */
  readonly variance: number;
  /** Sum of squared speeds less their mean, px² a frame². */
  readonly information: number;
  readonly count: number;
}

/** The frame of the second that shows what a frame of the first shows, once delay and speed are taken out. */
export function partnerFrame(frame: number, overlay: Overlay, { lateFrames, speed }: Extract<Timing, { kind: 'found' }>): number {
  return partnerOf(frame, overlay, { late: lateFrames, stretch: 1 / speed - 1 });
}

function partnerOf(frame: number, overlay: Overlay, { late, stretch }: Fit): number {
  return frame + overlay.offset + late + stretch * (frame - middleOf(overlay.first));
}

function middleOf(poses: readonly Posed[]): number {
  return ((poses[0]?.frame ?? 0) + (poses.at(-1)?.frame ?? 0)) / 2;
}

function shiftAt(overlay: Overlay, pose: Posed, frame: number): PicturePoint | undefined {
  const partner = poseAt(overlay.second, frame);
  return partner === undefined ? undefined : centreShift(pose, partner, overlay.nearness);
}

function coarse(overlay: Overlay, frames: readonly Posed[], reach: number): number | undefined {
  let best: { late: number; variance: number } | undefined;
  for (let late = -reach; late <= reach; late += 1) {
    const shifts = frames.flatMap((pose) => shiftAt(overlay, pose, partnerOf(pose.frame, overlay, { late, stretch: 0 })) ?? []);
    if (shifts.length < Math.max(4, frames.length / 2)) continue;
    const variance = varianceOf(shifts);
    if (best === undefined || variance < best.variance || (variance === best.variance && Math.abs(late) < Math.abs(best.late))) best = { late, variance };
  }
  return best?.late;
}

/** Gauss-Newton: the shifts are straightened about the present fit, the best step is solved for, until it is nothing. */
function refine(overlay: Overlay, frames: readonly Posed[], from: Fit, withSpeed: boolean): Fitted | undefined {
  let best = linearise(overlay, frames, from, withSpeed);
  for (let round = 0; best !== undefined && round < 12; round += 1) {
    const next = linearise(overlay, frames, { late: best.fit.late + best.step.late, stretch: best.fit.stretch + best.step.stretch }, withSpeed);
    if (next === undefined || !(next.variance < best.variance)) break;
    const isSettled = Math.abs(best.step.late) < 1e-5;
    best = next;
    if (isSettled) break;
  }
  return best;
}

function linearise(overlay: Overlay, frames: readonly Posed[], fit: Fit, withSpeed: boolean): (Fitted & { readonly step: Fit }) | undefined {
  const middle = middleOf(overlay.first);
  const rows: { readonly shift: PicturePoint; readonly speed: PicturePoint; readonly lever: number }[] = [];
  for (const pose of frames) {
    const partner = partnerOf(pose.frame, overlay, fit);
    const [here, before, after] = [shiftAt(overlay, pose, partner), shiftAt(overlay, pose, partner - 0.5), shiftAt(overlay, pose, partner + 0.5)];
    if (here === undefined || before === undefined || after === undefined) continue;
    rows.push({ shift: here, speed: { x: after.x - before.x, y: after.y - before.y }, lever: pose.frame - middle });
  }
  if (rows.length < Math.max(8, frames.length / 3)) return undefined;
  const [r, a] = [centred(rows.map(({ shift }) => shift)), centred(rows.map(({ speed }) => speed))];
  const b = centred(rows.map(({ speed, lever }) => ({ x: speed.x * lever, y: speed.y * lever })));
  const [aa, ar, ab, bb, br] = [dot(a, a), dot(a, r), dot(a, b), dot(b, b), dot(b, r)];
  const determinant = aa * bb - ab * ab;
  const together = withSpeed && determinant > 1e-9 * aa * bb;
  const step = together ? { late: (ab * br - bb * ar) / determinant, stretch: (ab * ar - aa * br) / determinant } : { late: aa > 0 ? -ar / aa : 0, stretch: 0 };
  return { fit, step, variance: dot(r, r) / rows.length, information: aa, count: rows.length };
}

function thinned(poses: readonly Posed[], most: number): readonly Posed[] {
  const stride = Math.ceil(poses.length / most);
  return poses.filter((_pose, index) => index % stride === 0);
}

function centred(points: readonly PicturePoint[]): readonly PicturePoint[] {
  const mean = points.reduce((sum, { x, y }) => ({ x: sum.x + x / points.length, y: sum.y + y / points.length }), { x: 0, y: 0 });
  return points.map(({ x, y }) => ({ x: x - mean.x, y: y - mean.y }));
}

function varianceOf(points: readonly PicturePoint[]): number {
  const less = centred(points);
  return dot(less, less) / points.length;
}

function dot(a: readonly PicturePoint[], b: readonly PicturePoint[]): number {
  return a.reduce((sum, { x, y }, index) => sum + x * (b[index]?.x ?? 0) + y * (b[index]?.y ?? 0), 0);
}
