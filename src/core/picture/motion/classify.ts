import { median, quantile } from '../pixels/order.ts';
import type { Similarity } from '../registration/similarity.ts';

/** What one frame did: against the frame before (`step`) and against the first (`path`), px of the proxy; absent where it could not be told. */
export interface CameraStep {
  readonly frame: number;
  readonly step?: Similarity;
  readonly path?: Similarity;
  /** True when `path` was measured against the first frame itself and not summed up. */
  readonly againstFirst: boolean;
}

/** Frames in which the camera jumped, `end` exclusive, and the largest jump, px of the proxy. */
export interface Bump {
  readonly start: number;
  readonly end: number;
  readonly px: number;
}

export type MoveKind = 'pan' | 'tilt' | 'zoom' | 'roll';

export type CameraMotion =
  | {
      readonly kind: 'locked' | 'vibrating' | 'moving';
      /** What moves most, when the camera is moving. */
      readonly move?: MoveKind;
      /** 95 of 100 steps are smaller, px at the edge of the frame. */
      readonly stepPx: number;
      /** The furthest it got from the first frame, px at the edge of the frame. */
      readonly fromFirstPx: number;
      readonly bumps: readonly Bump[];
      readonly steps: readonly CameraStep[];
    }
  | { readonly kind: 'cannot-tell'; readonly why: string; readonly steps: readonly CameraStep[] };

/** Thresholds in px of a 320-px proxy (measured on locked, shaken and moving scenes). */
const LOCKED_STEP = 0.03;
const LOCKED_FROM_FIRST = 0.06;
const SHAKEN_STEP = 0.2;
const SHAKEN_FROM_FIRST = 0.2;
const BUMP = 0.1;

/** Says whether a camera stood, shook or moved, and how, from its steps. */
export function classifyMotion(steps: readonly CameraStep[], { width }: { readonly width: number; readonly height: number }): CameraMotion {
  const seen = steps.flatMap(({ step }) => (step === undefined ? [] : [step]));
  if (steps.length === 0) return { kind: 'cannot-tell', why: 'one frame has no motion', steps };
  if (seen.length < 0.9 * steps.length) return { kind: 'cannot-tell', why: `only ${seen.length} of ${steps.length} steps could be followed`, steps };
  const half = width / 2;
  const bumps = bumpsOf(steps, half);
  const outside = withoutBumps(steps, bumps);
  const shares = partsOf(outside.flatMap(({ step }) => (step === undefined ? [] : [step])), half);
  const stepPx = Math.max(...(['shift', 'zoom', 'roll'] as const).map((part) => quantile(shares[part], 0.95)));
  const fromFirst = outside.flatMap(({ path, againstFirst }) => (path === undefined || !againstFirst ? [] : [largestPart(path, half)]));
  const summed = outside.flatMap(({ path }) => (path === undefined ? [] : [largestPart(path, half)]));
  const fromFirstPx = Math.max(0, ...(fromFirst.length > 0 ? fromFirst : summed));
  if (stepPx <= LOCKED_STEP && fromFirstPx <= LOCKED_FROM_FIRST + largestBump(bumps)) return { kind: 'locked', stepPx, fromFirstPx, bumps, steps };
  if (stepPx <= SHAKEN_STEP && stepPx > LOCKED_STEP && fromFirstPx <= SHAKEN_FROM_FIRST) return { kind: 'vibrating', stepPx, fromFirstPx, bumps, steps };
  return { kind: 'moving', move: dominant(shares), stepPx, fromFirstPx, bumps, steps };
}

interface Parts {
  readonly shift: readonly number[];
  readonly pan: readonly number[];
  readonly tilt: readonly number[];
  readonly zoom: readonly number[];
  readonly roll: readonly number[];
}

function partsOf(steps: readonly Similarity[], half: number): Parts {
  return {
    shift: steps.map(({ dx, dy }) => Math.hypot(dx, dy)),
    pan: steps.map(({ dx }) => Math.abs(dx)),
    tilt: steps.map(({ dy }) => Math.abs(dy)),
    zoom: steps.map(({ scale }) => Math.abs(scale - 1) * half),
    roll: steps.map(({ rotationDeg }) => (Math.abs(rotationDeg) * Math.PI * half) / 180),
  };
}

function largestPart(move: Similarity, half: number): number {
  const { shift, zoom, roll } = partsOf([move], half);
  return Math.max(...shift, ...zoom, ...roll);
}

function dominant(shares: Parts): MoveKind {
  const kinds: readonly MoveKind[] = ['pan', 'tilt', 'zoom', 'roll'];
  const sizes = kinds.map((kind) => quantile(shares[kind], 0.95));
  return kinds[sizes.indexOf(Math.max(...sizes))] ?? 'pan';
}

/** Steps that stand out from the rest of the pass; neighbours are one bump. */
function bumpsOf(steps: readonly CameraStep[], half: number): readonly Bump[] {
  const sizes = steps.map(({ step }) => (step === undefined ? 0 : largestPart(step, half)));
  const least = Math.max(BUMP, 5 * median(sizes));
  const bumps: Bump[] = [];
  for (const [index, px] of sizes.entries()) {
    if (px < least) continue;
    const frame = steps[index]?.frame ?? index + 1;
    const open = bumps.at(-1);
    if (open !== undefined && frame <= open.end + 1) bumps[bumps.length - 1] = { ...open, end: frame + 1, px: Math.max(open.px, px) };
    else bumps.push({ start: frame, end: frame + 1, px });
  }
  return bumps;
}

/** The steps that judge the rest of the pass, when only a few are bumps; a camera that is carried has nothing but bumps. */
function withoutBumps(steps: readonly CameraStep[], bumps: readonly Bump[]): readonly CameraStep[] {
  const outside = steps.filter(({ frame }) => !bumps.some(({ start, end }) => frame >= start && frame < end));
  return outside.length >= 0.85 * steps.length ? outside : steps;
}

/** A picture that jumped may rest as far off as it jumped; that is the bump's to tell. */
function largestBump(bumps: readonly Bump[]): number {
  return bumps.reduce((most, { px }) => Math.max(most, px), 0);
}
