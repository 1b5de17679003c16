import type { LumaFrame } from '../../../../src/core/picture/frame.ts';
import { registerPasses } from '../../../../src/core/picture/registration/register-passes.ts';
import { layOnto } from '../../../../src/core/picture/registration/similarity.ts';
import type { SplitLine } from '../../../../src/core/picture/split/split-line.ts';
import { columnAt } from '../../../../src/core/picture/split/split-line.ts';
import type { FramePair } from '../../../../src/core/picture/split/still.ts';
import { studySplit } from '../../../../src/core/picture/split/study-split.ts';
import type { Scene, SceneOptions } from '../../../support/scene.ts';
import { makeScene } from '../../../support/scene.ts';
import type { Figure } from '../../../support/scene-figure.ts';

/** One staging, what is done to the frames before the study, and what must come out. */
export interface SplitScene {
  readonly name: string;
  readonly options: SceneOptions;
  readonly register?: boolean;
  readonly withoutPlate?: boolean;
  readonly expected: 'static' | 'moving' | 'no' | 'cannot tell';
  /** The corridor must be the true one: nothing but performers is in the way. */
  readonly corridor?: boolean;
}

const FRAMES = 24;
const H = 105;

/** Performer and double trade places: dark and light costume, each with its own stride. */
function staging(left: Figure['x'], right: Figure['x'], more: { readonly left?: Partial<Figure>; readonly right?: Partial<Figure>; readonly tones?: readonly [number, number]; readonly frames?: number } = {}): SceneOptions {
  const [dark, pale] = more.tones ?? [35, 215];
  const figures = (tones: readonly [number, number], strides: readonly [number, number]): readonly Figure[] => [
    { x: left, height: H, tone: tones[0], stride: strides[0], ...more.left },
    { x: right, height: H, tone: tones[1], stride: strides[1], ...more.right },
  ];
  return { frames: more.frames ?? FRAMES, noise: 1, lead: { figures: figures([dark, pale], [24, 31]) }, swapped: { figures: figures([pale, dark], [27, 22]) }, clean: { frames: 8 } };
}

const apart = staging(85, 235);
const swap = (options: SceneOptions, swapped: SceneOptions['swapped']): SceneOptions => ({ ...options, swapped: { ...options.swapped, ...swapped } });
const lead = (options: SceneOptions, more: SceneOptions['lead']): SceneOptions => ({ ...options, lead: { ...options.lead, ...more } });

const reach = (frame: number): number => (frame >= 6 && frame <= 18 ? 92 * Math.sin((Math.PI * (frame - 6)) / 12) : 0);
const meet = (from: number, sign: number) => (frame: number): number => from + sign * 66 * Math.max(0, 1 - Math.abs(frame - 12) / 9);
const shade = (x: number) => (px: number, py: number): number => 1 - 0.2 * Math.exp(-(((px - x) / 22) ** 2) - ((py - 165) / 9) ** 2);
const lamp = (x: number) => ({ patches: [{ x, y: 60, width: 9, height: 40, contrast: 45 }] });

/** Thirteen stagings; each is tried before two backdrops. Outcomes follow from the staging alone. */
export const SPLIT_SCENES: readonly SplitScene[] = [
  { name: 'two who stay apart', options: apart, expected: 'static', corridor: true },
  { name: 'noise of three codes', options: { ...apart, noise: 3 }, expected: 'static' },
  { name: 'a swapped pass a sixth of a stop brighter', options: swap(apart, { gain: 1.12, offset: 3 }), expected: 'static' },
  { name: 'a swapped pass half a pixel aside', options: swap(apart, { camera: { dx: 0.53, dy: -0.21 } }), register: true, expected: 'static' },
  { name: 'a lamp that flickers by two percent', options: swap(apart, { gain: (frame) => 1 + 0.02 * Math.sin(frame * 1.7) }), expected: 'static' },
  { name: 'an arm that crosses', options: staging(85, 235, { left: { reach } }), expected: 'static', corridor: true },
  { name: 'two who stand close', options: staging(122, 180, { left: { stride: 0 }, right: { stride: 0 } }), expected: 'static', corridor: true },
  { name: 'two who walk aside together', options: staging((frame) => 60 + 1.9 * frame, (frame) => 165 + 1.9 * frame, { frames: 50, left: { stride: 0 }, right: { stride: 0 } }), expected: 'moving' },
  { name: 'two who hug', options: staging(meet(85, 1), meet(235, -1)), expected: 'no' },
  { name: 'shadows on the floor that go with the performers', options: lead(swap(apart, { light: shade(92) }), { light: shade(78) }), expected: 'static' },
  { name: 'a lamp that was moved', options: { ...lead(swap(apart, lamp(172)), lamp(150)), clean: { frames: 8, ...lamp(150) } }, expected: 'static' },
  { name: 'one costume for both, standing close', options: staging(122, 180, { tones: [40, 40], left: { stride: 0 }, right: { stride: 0 } }), expected: 'static' },
  { name: 'no clean plate', options: staging((frame) => 85 + 14 * Math.sin(frame / 5), (frame) => 235 + 14 * Math.cos(frame / 6)), withoutPlate: true, expected: 'static' },
];

/** The study of a scene, registered first where the scene asks for it. */
export function studyScene(scene: Scene, how: Pick<SplitScene, 'register' | 'withoutPlate'>): SplitLine {
  const move = how.register === true ? registerPasses(scene.lead.slice(0, 3), scene.swapped.slice(0, 3)) : undefined;
  if (move !== undefined && move.kind !== 'measured') throw new Error(move.why);
  const pairs = scene.lead.flatMap((frame, index): readonly FramePair[] => {
    const other = scene.swapped[index];
    return other === undefined ? [] : [{ frame: index, lead: frame, swapped: move === undefined ? other : layOnto(other, move) }];
  });
  return studySplit(pairs, how.withoutPlate === true ? undefined : meanOf(scene.clean));
}

export function sceneOn(backdrop: 'room' | 'alpine', { options }: SplitScene): Scene {
  return makeScene({ ...options, backdrop, seed: backdrop === 'room' ? 11 : 12, doorShift: backdrop === 'room' ? -9 : 0 });
}

/** Performer pixels that the line touches, over all frames of both passes. */
export function hitsOn(scene: Scene, split: SplitLine): number {
  let hits = 0;
  for (const { truth } of [{ truth: scene.truth.lead }, { truth: scene.truth.swapped }]) {
    truth.figures.forEach((mask, frame) => {
      for (let y = 0; y < split.height; y++) hits += mask[y * split.width + Math.floor(lineAt(split, frame, y + 0.5))] ?? 0;
    });
  }
  return hits;
}

/** Where the line runs at a frame: a moving one goes straight from key to key. */
export function lineAt(split: SplitLine, frame: number, y: number): number {
  if (split.kind !== 'moving') return columnAt(split.line, y);
  const next = split.keys.findIndex((key) => key.frame >= frame);
  const [before, after] = [split.keys[Math.max(0, next - 1)], split.keys[next]];
  if (before === undefined || after === undefined) throw new Error(`no key reaches frame ${frame}`);
  const share = after.frame === before.frame ? 1 : (frame - before.frame) / (after.frame - before.frame);
  return (1 - share) * columnAt(before.line, y) + share * columnAt(after.line, y);
}

/** The true free stretch of each row around the line, from the drawn figures alone; the narrowest first. */
export function trueCorridor(scene: Scene, split: SplitLine): readonly { readonly row: number; readonly left: number; readonly right: number }[] {
  const rows = Array.from({ length: split.height }, (_, row) => {
    const x = Math.floor(columnAt(split.line, row + 0.5));
    const taken = (at: number): boolean => [...scene.truth.lead.figures, ...scene.truth.swapped.figures].some((mask) => mask[row * split.width + at] === 1);
    let [left, right] = [x, x];
    while (left > 0 && !taken(left - 1)) left--;
    while (right < split.width && !taken(right)) right++;
    return { row, left, right };
  });
  return rows.toSorted((a, b) => a.right - a.left - (b.right - b.left));
}

/** The empty columns between the drawn performers of both passes together, frame by frame: 0 where they are one patch. */
export function trueGaps(scene: Scene): readonly number[] {
  return scene.truth.lead.figures.map((mask, frame) => {
    const taken = new Uint8Array(320);
    for (const plane of [mask, scene.truth.swapped.figures[frame] ?? mask]) plane.forEach((is, i) => { if (is === 1) taken[i % 320] = 1; });
    return taken.slice(taken.indexOf(1), taken.lastIndexOf(1)).filter((is) => is === 0).length;
  });
}

function meanOf(frames: readonly LumaFrame[]): LumaFrame {
  const [first] = frames;
  if (first === undefined) throw new Error('no frames');
  return { ...first, values: first.values.map((_, i) => frames.reduce((sum, { values }) => sum + (values[i] ?? 0), 0) / frames.length) };
}
