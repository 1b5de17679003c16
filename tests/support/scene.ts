import type { LumaFrame } from '../../src/core/picture/frame.ts';
import { gaussianFrom, randomFrom } from './random.ts';
import type { Backdrop, Door, Painting } from './scene-backdrop.ts';
import { doorOf, FINE, MARGIN, paint } from './scene-backdrop.ts';
import type { Figure, Limb } from './scene-figure.ts';
import { covers, depthIn, limbsOf } from './scene-figure.ts';

/** How the picture lies against the lead frame at rest: scaled and turned about the middle, then shifted (px, degrees clockwise). */
export interface Placement {
  readonly dx?: number;
  readonly dy?: number;
  readonly scale?: number;
  readonly rotationDeg?: number;
}

/** A patch that hides what is behind: a prop, a lamp, a door leaf. px of the lead frame at rest. */
export interface Patch {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly contrast: number;
}

/** One pass of a scene. Everything absent means: nothing there, nothing changed. */
export interface ScenePass {
  readonly figures?: readonly Figure[];
  readonly patches?: readonly Patch[];
  /** A still placement, or one a frame for a camera that moves. */
  readonly camera?: Placement | ((frame: number) => Placement);
  readonly gain?: number | ((frame: number) => number);
  /** Codes added after the gain. */
  readonly offset?: number;
  /** The light at a place (px) and frame as a factor: shadows, gradients. */
  readonly light?: (x: number, y: number, frame: number) => number;
  /** Default: as many as the scene has. */
  readonly frames?: number;
}

export interface SceneOptions {
  /** Default 320 x 180. */
  readonly width?: number;
  readonly height?: number;
  /** Default 12. */
  readonly frames?: number;
  /** Chooses plaster and noise. Default 1. */
  readonly seed?: number;
  readonly backdrop?: Backdrop;
  /** Moves the door of the room, px. */
  readonly doorShift?: number;
  /** Spread of the noise in codes. Default 1. */
  readonly noise?: number;
  readonly lead?: ScenePass;
  readonly swapped?: ScenePass;
  readonly clean?: ScenePass;
}

/** Where the figures really are: one byte a pixel, 1 where any of a figure covers it. */
export interface PassTruth {
  readonly figures: readonly Uint8Array[];
  readonly placements: readonly Required<Placement>[];
}

export interface Scene {
  readonly lead: readonly LumaFrame[];
  readonly swapped: readonly LumaFrame[];
  readonly clean: readonly LumaFrame[];
  readonly truth: { readonly door: Door; readonly lead: PassTruth; readonly swapped: PassTruth; readonly clean: PassTruth };
}

/**
 * Draws the passes of a scene with known truth: `makeScene({ lead: { figures: [{ x: 80, height: 105 }] }, swapped: { camera: { dx: .5 } } })`.
 * The backdrop is painted at four samples a pixel each way and averaged over each pixel's area, as a good scaler does.
 */
export function makeScene(options: SceneOptions): Scene {
  const size = { width: options.width ?? 320, height: options.height ?? 180 };
  const seed = options.seed ?? 1;
  const door = doorOf(size.width, options.doorShift ?? 0);
  const painting = paint(options.backdrop ?? 'room', size, seed, door);
  const draw = (pass: ScenePass | undefined, number: number): Drawn =>
    drawPass(painting, size, pass ?? {}, { frames: pass?.frames ?? options.frames ?? 12, noise: options.noise ?? 1, seed: seed * 7919 + number * 104_729 });
  const [lead, swapped, clean] = [draw(options.lead, 1), draw(options.swapped, 2), draw(options.clean, 3)];
  return { lead: lead.pictures, swapped: swapped.pictures, clean: clean.pictures, truth: { door, lead: lead.truth, swapped: swapped.truth, clean: clean.truth } };
}

interface Size {
  readonly width: number;
  readonly height: number;
}

interface Drawn {
  readonly pictures: readonly LumaFrame[];
  readonly truth: PassTruth;
}

function drawPass(painting: Painting, size: Size, pass: ScenePass, run: { readonly frames: number; readonly noise: number; readonly seed: number }): Drawn {
  const pictures: LumaFrame[] = [];
  const figures: Uint8Array[] = [];
  const placements: Required<Placement>[] = [];
  for (let frame = 0; frame < run.frames; frame++) {
    const placement = full(typeof pass.camera === 'function' ? pass.camera(frame) : pass.camera);
    const values = photographed(painting, size, placement).slice();
    for (const patch of pass.patches ?? []) addPatch(values, size, patch, placement);
    const mask = new Uint8Array(values.length);
    for (const figure of pass.figures ?? []) addFigure(values, mask, size, { figure, limbs: limbsOf(figure, frame, size.height), placement });
    expose(values, size, pass, frame, { spread: run.noise, seed: run.seed + frame * 15_485_863 });
    pictures.push({ ...size, values });
    figures.push(mask);
    placements.push(placement);
  }
  return { pictures, truth: { figures, placements } };
}

function full(placement: Placement | undefined): Required<Placement> {
  return { dx: placement?.dx ?? 0, dy: placement?.dy ?? 0, scale: placement?.scale ?? 1, rotationDeg: placement?.rotationDeg ?? 0 };
}

/** What the camera last saw of a painting from a few placements: passes and frames share them. */
const seen = new WeakMap<Painting, Map<string, Float32Array>>();

function photographed(painting: Painting, size: Size, placement: Required<Placement>): Float32Array {
  const views = seen.get(painting) ?? new Map<string, Float32Array>();
  seen.set(painting, views);
  const key = Object.values(placement).join(' ');
  const view = views.get(key) ?? photograph(painting, size, placement);
  if (views.size > 6) views.clear();
  views.set(key, view);
  return view;
}

function photograph(painting: Painting, size: Size, placement: Required<Placement>): Float32Array {
  const out = new Float32Array(size.width * size.height);
  const [middleX, middleY] = [(size.width - 1) / 2, (size.height - 1) / 2];
  const cos = Math.cos((placement.rotationDeg * Math.PI) / 180) / placement.scale;
  const sin = Math.sin((placement.rotationDeg * Math.PI) / 180) / placement.scale;
  for (let y = 0; y < size.height; y++) {
    for (let x = 0; x < size.width; x++) {
      let sum = 0;
      for (let part = 0; part < FINE * FINE; part++) {
        const awayX = x - middleX - placement.dx + ((part % FINE) + 0.5) / FINE - 0.5;
        const awayY = y - middleY - placement.dy + (Math.floor(part / FINE) + 0.5) / FINE - 0.5;
        sum += fineSample(painting, middleX + cos * awayX + sin * awayY, middleY - sin * awayX + cos * awayY);
      }
      out[y * size.width + x] = sum / (FINE * FINE);
    }
  }
  return out;
}

function fineSample({ width, height, values }: Painting, x: number, y: number): number {
  const fineX = Math.min(Math.max((x + 0.5 + MARGIN) * FINE - 0.5, 0), width - 1.001);
  const fineY = Math.min(Math.max((y + 0.5 + MARGIN) * FINE - 0.5, 0), height - 1.001);
  const left = Math.floor(fineX);
  const top = Math.floor(fineY);
  const at = top * width + left;
  const [right, down] = [fineX - left, fineY - top];
  const upper = (values[at] ?? 0) * (1 - right) + (values[at + 1] ?? 0) * right;
  const lower = (values[at + width] ?? 0) * (1 - right) + (values[at + width + 1] ?? 0) * right;
  return upper * (1 - down) + lower * down;
}

/** Which pixels may be touched by something within these bounds of the frame at rest; generous for small moves of the camera. */
function reachOf(size: Size, bounds: readonly [number, number, number, number], placement: Required<Placement>): readonly [number, number, number, number] {
  const slack = 3 + Math.abs(placement.dx) + Math.abs(placement.dy) + size.width * (Math.abs(placement.scale - 1) + Math.abs(placement.rotationDeg) / 57);
  return [Math.max(0, Math.floor(bounds[0] - slack)), Math.max(0, Math.floor(bounds[1] - slack)), Math.min(size.width - 1, Math.ceil(bounds[2] + slack)), Math.min(size.height - 1, Math.ceil(bounds[3] + slack))];
}

interface Shape {
  /** left, top, right, bottom. */
  readonly bounds: readonly [number, number, number, number];
  readonly inside: (x: number, y: number) => boolean;
  /** How far the point lies from the edge, px: at least so far inside, or (negative) outside. */
  readonly depth: (x: number, y: number) => number;
}

/** The share of each pixel that a shape covers, told pixel by pixel where it is not none. Only pixels at the edge are looked at closely. */
function eachCovered(size: Size, shape: Shape, placement: Required<Placement>, put: (at: number, share: number) => void): void {
  const [middleX, middleY] = [(size.width - 1) / 2, (size.height - 1) / 2];
  const cos = Math.cos((placement.rotationDeg * Math.PI) / 180) / placement.scale;
  const sin = Math.sin((placement.rotationDeg * Math.PI) / 180) / placement.scale;
  const halfPixel = 0.6 / placement.scale;
  const [left, top, right, bottom] = reachOf(size, shape.bounds, placement);
  for (let y = top; y <= bottom; y++) {
    for (let x = left; x <= right; x++) {
      const [awayX, awayY] = [x - middleX - placement.dx, y - middleY - placement.dy];
      const depth = shape.depth(middleX + cos * awayX + sin * awayY, middleY - sin * awayX + cos * awayY);
      if (depth < -halfPixel) continue;
      const share = depth > halfPixel ? 1 : shareInside(shape, { x, y, middleX, middleY, cos, sin, placement });
      if (share > 0) put(y * size.width + x, share);
    }
  }
}

function shareInside(shape: Shape, { x, y, middleX, middleY, cos, sin, placement }: { readonly x: number; readonly y: number; readonly middleX: number; readonly middleY: number; readonly cos: number; readonly sin: number; readonly placement: Required<Placement> }): number {
  let count = 0;
  for (let part = 0; part < FINE * FINE; part++) {
    const awayX = x - middleX - placement.dx + ((part % FINE) + 0.5) / FINE - 0.5;
    const awayY = y - middleY - placement.dy + (Math.floor(part / FINE) + 0.5) / FINE - 0.5;
    if (shape.inside(middleX + cos * awayX + sin * awayY, middleY - sin * awayX + cos * awayY)) count++;
  }
  return count / (FINE * FINE);
}

function addPatch(values: Float32Array, size: Size, patch: Patch, placement: Required<Placement>): void {
  const [right, bottom] = [patch.x + patch.width, patch.y + patch.height];
  const inside = (x: number, y: number): boolean => x >= patch.x && x < right && y >= patch.y && y < bottom;
  const depth = (x: number, y: number): number => Math.min(x - patch.x, right - x, y - patch.y, bottom - y);
  eachCovered(size, { bounds: [patch.x, patch.y, right, bottom], inside, depth }, placement, (at, share) => { values[at] = (values[at] ?? 0) + share * patch.contrast; });
}

function addFigure(values: Float32Array, mask: Uint8Array, size: Size, drawn: { readonly figure: Figure; readonly limbs: readonly Limb[]; readonly placement: Required<Placement> }): void {
  const { figure, limbs, placement } = drawn;
  const across = limbs.flatMap((limb) => [limb.fromX - limb.radius, limb.fromX + limb.radius, limb.toX - limb.radius, limb.toX + limb.radius]);
  const down = limbs.flatMap((limb) => [limb.fromY - limb.radius, limb.fromY + limb.radius, limb.toY - limb.radius, limb.toY + limb.radius]);
  const bounds = [Math.min(...across), Math.min(...down), Math.max(...across), Math.max(...down)] as const;
  const inside = (x: number, y: number): boolean => limbs.some((limb) => covers(limb, x, y));
  eachCovered(size, { bounds, inside, depth: (x, y) => depthIn(limbs, x, y) }, placement, (at, share) => {
    const behind = values[at] ?? 0;
    values[at] = behind + share * (figure.contrast ?? (figure.tone ?? 40) - behind);
    mask[at] = 1;
  });
}

function expose(values: Float32Array, size: Size, pass: ScenePass, frame: number, noise: { readonly spread: number; readonly seed: number }): void {
  const gain = typeof pass.gain === 'function' ? pass.gain(frame) : (pass.gain ?? 1);
  const offset = pass.offset ?? 0;
  const grain = noise.spread === 0 ? undefined : grainOf(noise.seed, values.length);
  for (let i = 0; i < values.length; i++) {
    const light = pass.light === undefined ? 1 : pass.light(i % size.width, Math.floor(i / size.width), frame);
    const code = gain * ((values[i] ?? 0) * light) + offset + (grain === undefined ? 0 : noise.spread * (grain[i] ?? 0));
    values[i] = Math.min(255, Math.max(0, code));
  }
}

/** Grain of spread 1, as many as two scenes of fifty frames need: scenes of one seed share theirs. */
const grains = new Map<string, Float64Array>();

function grainOf(seed: number, pixels: number): Float64Array {
  const key = `${seed} ${pixels}`;
  const gaussian = gaussianFrom(randomFrom(seed));
  const grain = grains.get(key) ?? Float64Array.from({ length: pixels }, gaussian);
  grains.set(key, grain);
  const [oldest] = grains.keys();
  if (grains.size > 120 && oldest !== undefined) grains.delete(oldest);
  return grain;
}

/** A soft-edged shadow for `light`: `strength` of the light is lost in the middle of an ellipse. */
export function softShadow(shadow: { readonly x: number; readonly y: number; readonly radiusX: number; readonly radiusY: number; readonly strength: number }): (x: number, y: number) => number {
  return (x, y) => {
    const away = ((x - shadow.x) / shadow.radiusX) ** 2 + ((y - shadow.y) / shadow.radiusY) ** 2;
    return 1 - shadow.strength * Math.exp(-away);
  };
}
