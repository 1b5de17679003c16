import { describe, expect, it } from 'vitest';
import { measureMatch } from '../../../src/core/picture/measure/measure-match.ts';
import type { SplitLine } from '../../../src/core/picture/split/split-line.ts';
import { scaleSplit } from '../../../src/core/picture/split/split-line.ts';
import type { Scene, SceneOptions, ScenePass } from '../../support/scene.ts';
import { makeScene } from '../../support/scene.ts';
import { clipOfScene } from '../../support/scene-clip.ts';
import type { Figure } from '../../support/scene-figure.ts';
import { hitsOn } from './split/split-scenes.ts';

const FRAMES = 16;
type Where = Figure['x'];
type Light = NonNullable<ScenePass['light']>;

/** Performer and double trade places; what is said of a pass is added to it. */
function staged(more: { readonly left?: Where; readonly right?: Where; readonly noise?: number; readonly lead?: ScenePass; readonly swapped?: ScenePass; readonly clean?: ScenePass; readonly alsoInLead?: readonly Figure[] }): SceneOptions {
  const [left, right] = [more.left ?? 85, more.right ?? 235];
  const figures = (a: number, b: number, strides: readonly [number, number]): readonly Figure[] => [{ x: left, height: 105, tone: a, stride: strides[0] }, { x: right, height: 105, tone: b, stride: strides[1] }];
  return {
    frames: FRAMES, seed: 23, noise: more.noise ?? 1,
    lead: { figures: [...figures(35, 215, [24, 31]), ...(more.alsoInLead ?? [])], ...more.lead },
    swapped: { figures: figures(215, 35, [27, 22]), ...more.swapped },
    clean: { frames: 6, ...more.clean },
  };
}

const band = (strength: number): Light => (x) => 1 - strength * Math.exp(-(((x - 160) / 45) ** 2));
const rolling = (strength: number, phase: number): Light => (_x, y, frame) => 1 + strength * Math.sin(2 * Math.PI * (0.9 * (y / 180) + 0.31 * frame) + phase);
const leaves = (phase: number): Light => (x, _y, frame) => (x < 100 || x > 220 ? 1 : 1 + 0.06 * Math.sin(x / 3.1 + 1.3 * Math.sin(frame / 4 + phase)));
const night: ScenePass = { gain: 0.15, offset: 2 };
const meeting = (from: number, sign: number): Where => (frame) => from + sign * 66 * Math.max(0, 1 - Math.abs(frame - 8) / 5);

/** Stagings in which a line would be a lie, or nobody could know. */
const NEVER_YES: readonly (readonly [name: string, options: SceneOptions])[] = [
  ['grain in which a person of ten codes is not to be seen', staged({ noise: 5, alsoInLead: [{ x: 160, height: 105, contrast: 10 }] })],
  ['light that falls off by 15 percent in one pass', staged({ swapped: { light: (x) => 1 + 0.15 * (x / 320 - 0.5) } })],
  ['a soft shadow of 4 percent from top to bottom between the performers', staged({ lead: { light: band(0.04) } })],
  ['a soft shadow of 10 percent there', staged({ lead: { light: band(0.1) } })],
  ['bands of a flickering lamp that roll through the frame', staged({ lead: { light: rolling(0.02, 0) }, swapped: { light: rolling(0.02, 2) } })],
  ['a curtain that moves all over the gap', staged({ lead: { light: leaves(0) }, swapped: { light: leaves(2) }, clean: { light: leaves(4) } })],
  ['a hand-held camera', staged({ lead: { camera: (frame) => ({ dx: 0.5 * Math.sin(frame / 3), dy: 0.4 * Math.cos(frame / 4) }) } })],
  ['focus that breathes in the last frames', staged({ swapped: { camera: (frame) => ({ scale: frame < 10 ? 1 : 1 + 0.01 * ((frame - 10) / 6) }) } })],
  ['a tripod that is knocked by 3 px near the end', staged({ lead: { camera: (frame) => ({ dx: frame < 13 ? 0 : 3 }) } })],
  ['a hug in the dark', staged({ left: meeting(85, 1), right: meeting(235, -1), noise: 0.7, lead: night, swapped: night, clean: night })],
  ['a performer who crosses to the other in a third of the frames', staged({ left: (frame) => 85 + (frame > 5 && frame < 11 ? 150 * Math.sin((Math.PI * (frame - 5)) / 6) : 0), right: 250 })],
  ['a swapped pass that clips', staged({ swapped: { gain: 1.7 } })],
];

/** Stagings that join, in spite of what they show. */
const YES: readonly (readonly [name: string, options: SceneOptions])[] = [
  ['a mirror that shows each performer once more', { ...staged({ alsoInLead: [{ x: 150, height: 60, feetY: 110, contrast: -12 }] }) }],
  ['a sun that drifts by 40 percent', staged({ swapped: { gain: (frame) => 0.8 + (0.4 * frame) / FRAMES } })],
  ['a dark night', staged({ noise: 0.7, lead: night, swapped: night, clean: night })],
  ['a swapped pass 1.5 px aside and turned by .3 degrees', staged({ swapped: { camera: { dx: 1.5, dy: -0.7, rotationDeg: 0.3 } } })],
];

function lineOf(scene: Scene): SplitLine {
  const task = { lead: clipOfScene(scene.lead), pass: clipOfScene(scene.swapped), clean: clipOfScene(scene.clean), elements: [], offset: 0, offsetIsGuess: false, rate: { num: 24, den: 1 }, range: { start: 0, end: FRAMES }, movingCamera: false, wantsLine: true };
  const { split } = measureMatch(task).picture;
  if (split === undefined) throw new Error('no line was looked for');
  return scaleSplit(split, { width: 320, height: 180 });
}

describe('a split line in scenes that tempt to a wrong yes', () => {
  it.each(NEVER_YES)('is not promised: %s', (_, options) => {
    expect(lineOf(makeScene(options)).verdict).not.toBe('yes');
  });

  it.each(YES)('is found, and touches nobody: %s', (_, options) => {
    const scene = makeScene(options);
    const split = lineOf(scene);
    expect(split.verdict, split.reasons.join('; ')).toBe('yes');
    expect(hitsOn(scene, split)).toBe(0);
  });

  it('says what noise would hide, and how much', () => {
    expect(lineOf(makeScene(staged({ noise: 5 }))).reasons[0]).toMatch(/hides whatever differs by less than 1\d codes/u);
  });
});
