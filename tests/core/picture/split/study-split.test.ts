import { describe, expect, it } from 'vitest';
import type { SplitLine } from '../../../../src/core/picture/split/split-line.ts';
import { outsideProgram } from '../../../support/outside.ts';
import type { Scene } from '../../../support/scene.ts';
import type { SplitScene } from './split-scenes.ts';
import { hitsOn, sceneOn, SPLIT_SCENES, studyScene, trueCorridor, trueGaps } from './split-scenes.ts';

/** Each staging before one of the backdrops, by turns; before both with PICTURE_CASES=all. */
const staged = (backdrop: number): readonly SplitScene[] => SPLIT_SCENES.filter((_, index) => process.env['PICTURE_CASES'] === 'all' || index % 2 === backdrop);

describe.each([['room', 0], ['alpine', 1]] as const)('the line before the backdrop "%s"', (backdrop, turn) => {
  it.skipIf(backdrop === 'alpine' && !outsideProgram('ffmpeg')).each(staged(turn))('is as it must be for $name', (staging) => {
    const scene = sceneOn(backdrop, staging);
    const split = studyScene(scene, staging);
    expect({ verdict: split.verdict, kind: split.kind, reasons: split.reasons }).toMatchObject(outcome(staging.expected));
    if (split.verdict === 'yes') expect(hitsOn(scene, split)).toBe(0);
    if (staging.corridor === true) expectTrueCorridor(scene, split);
    if (staging.expected === 'no') expectTrueContact(scene, split);
  });
});

function outcome(expected: SplitScene['expected']): Partial<SplitLine> {
  return expected === 'static' || expected === 'moving' ? { verdict: 'yes', kind: expected } : { verdict: expected };
}

/** Within 2 px of the drawn figures on each side. */
function expectTrueCorridor(scene: Scene, { corridor, ...split }: SplitLine): void {
  const rows = trueCorridor(scene, split);
  const here = rows.find(({ row }) => row === corridor?.row);
  expect(Math.abs((corridor?.left ?? NaN) - (here?.left ?? NaN))).toBeLessThanOrEqual(2);
  expect(Math.abs((corridor?.right ?? NaN) - (here?.right ?? NaN))).toBeLessThanOrEqual(2);
  expect(Math.abs((corridor?.narrowest ?? NaN) - ((rows[0]?.right ?? NaN) - (rows[0]?.left ?? NaN)))).toBeLessThanOrEqual(4);
}

/** Every frame in which the performers touch is named; what is named besides has less room than guard and rim need on both sides. */
function expectTrueContact(scene: Scene, { badFrames }: SplitLine): void {
  const isBad = (frame: number): boolean => badFrames.some(([from, to]) => frame >= from && frame <= to);
  trueGaps(scene).forEach((gap, frame) => {
    if (gap === 0) expect(isBad(frame), `frame ${frame}`).toBe(true);
    if (gap > 12) expect(isBad(frame), `frame ${frame}, ${gap} px apart`).toBe(false);
  });
}
