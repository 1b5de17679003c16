import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lumaFrame } from '../../../../src/core/picture/frame.ts';
import { columnAt, marginOf, pointsOf, scaleSplit } from '../../../../src/core/picture/split/split-line.ts';
import type { FramePair } from '../../../../src/core/picture/split/still.ts';
import { makeStill } from '../../../../src/core/picture/split/still.ts';
import { SplitStudy, studySplit } from '../../../../src/core/picture/split/study-split.ts';
import type { Scene, SceneOptions, ScenePass } from '../../../support/scene.ts';
import { makeScene } from '../../../support/scene.ts';
import type { Figure } from '../../../support/scene-figure.ts';
import { hitsOn } from './split-scenes.ts';

const man = (x: Figure['x'], tone: number, more: Partial<Figure> = {}): Figure => ({ x, height: 105, tone, ...more });
const pairsOf = (scene: Scene): readonly FramePair[] => scene.lead.flatMap((lead, frame) => scene.swapped.slice(frame, frame + 1).map((swapped) => ({ frame, lead, swapped })));
const make = (lead: readonly Figure[], swapped: readonly Figure[], more: SceneOptions = {}): Scene =>
  makeScene({ frames: 12, ...more, lead: { figures: lead, ...more.lead }, swapped: { figures: swapped, ...more.swapped }, clean: { frames: 1, ...more.clean } });
const study = (scene: Scene) => studySplit(pairsOf(scene), scene.clean[0]);

describe('a study of passes that are not as they should be', () => {
  it('splits passes shot without a double: one performer on either side', () => {
    const scene = make([man(85, 40)], [man(235, 40)]);
    const split = study(scene);
    expect(split).toMatchObject({ verdict: 'yes', kind: 'static' });
    expect(hitsOn(scene, split)).toBe(0);
    expect(columnAt(split.line, 120)).toBeGreaterThan(85);
    expect(columnAt(split.line, 120)).toBeLessThan(235);
  });

  it('keeps on when a performer walks out of the frame', () => {
    const leaving = (frame: number): number => 85 - 16 * Math.max(0, frame - 4);
    const scene = make([man(leaving, 40), man(235, 215)], [man(leaving, 215), man(235, 40)]);
    const split = study(scene);
    expect(split).toMatchObject({ verdict: 'yes', kind: 'static' });
    expect(hitsOn(scene, split)).toBe(0);
  });

  it('does not take one who hides behind the other for one who is gone', () => {
    const behind = (frame: number): number => (frame < 4 ? 85 + 30 * frame : 210);
    const scene = make([man(behind, 60), man(210, 215)], [man(behind, 215), man(210, 60)]);
    expect(study(scene)).toMatchObject({ verdict: 'no' });
  });

  it('takes the range a person gives instead of looking for performers', () => {
    const scene = make([man(85, 40)], [man(85, 215)]);
    expect(study(scene).verdict).toBe('cannot tell');
    const split = studySplit(pairsOf(scene), scene.clean[0], { within: { first: 150, last: 300 } });
    expect(split).toMatchObject({ verdict: 'yes', kind: 'static' });
    expect(columnAt(split.line, 90)).toBeGreaterThanOrEqual(150);
  });

  it('cannot tell from an empty set', () => {
    expect(study(make([], []))).toMatchObject({ verdict: 'cannot tell', confidence: 0, reasons: [expect.stringMatching(/nothing to run a line between/u)] });
  });

  it('cannot tell when the passes do not show the same place', () => {
    const [here, there] = [make([man(85, 40)], []), make([], [man(235, 40)], { seed: 77, doorShift: 40 })];
    const pairs = here.lead.flatMap((lead, frame) => there.swapped.slice(frame, frame + 1).map((swapped) => ({ frame, lead, swapped })));
    expect(studySplit(pairs, here.clean[0]).verdict).toBe('cannot tell');
  });

  it('cannot tell when the camera moved between the passes and nothing was registered', () => {
    expect(study(make([man(85, 40), man(235, 215)], [man(85, 215), man(235, 40)], { swapped: { camera: { dx: 9, dy: 4 } } })).verdict).not.toBe('yes');
  });

  it('answers for a clip of one frame', () => {
    const scene = make([man(85, 40), man(235, 215)], [man(85, 215), man(235, 40)], { frames: 1 });
    expect(study(scene)).toMatchObject({ verdict: 'yes', framesUsed: 1 });
    expect(study(scene).confidence).toBeLessThan(0.8);
  });

  it('does not run a line between one performer and himself when the other melts into the guessed set', () => {
    const still = man(85, 40, { stride: 0 });
    const scene = make([still, man((frame) => 190 - 4 * frame, 215)], [still, man((frame) => 240 + 4 * frame, 215)]);
    expect(studySplit(pairsOf(scene)).verdict).toBe('cannot tell');
  });

  it('is less sure without a clean plate', () => {
    const walk = (from: number) => (frame: number): number => from + 12 * Math.sin(frame / 2);
    const scene = make([man(walk(85), 40), man(walk(235), 215)], [man(walk(88), 215), man(walk(232), 40)]);
    const [withPlate, without] = [study(scene), studySplit(pairsOf(scene))];
    expect(without.verdict).toBe('yes');
    expect(without.confidence).toBeLessThan(withPlate.confidence);
    expect(without.reasons.join(' ')).toMatch(/without a clean plate/u);
  });

  it.each([[40, 22], [641, 90], [180, 320]])('works on a raster of %i x %i', (width, height) => {
    const figure = (share: number, tone: number): Figure => ({ x: share * width, height: 0.5 * height, tone, stride: 0 });
    const scene = make([figure(0.25, 40), figure(0.75, 215)], [figure(0.25, 215), figure(0.75, 40)], { width, height, frames: 4 });
    expect(['yes', 'cannot tell']).toContain(study(scene).verdict);
  });

  it('refuses frames of unlike size, no frames at all, and frames out of order', () => {
    const [a, b] = [lumaFrame(32, 18), lumaFrame(36, 18)];
    expect(() => makeStill([{ frame: 0, lead: a, swapped: b }])).toThrow(RangeError);
    expect(() => makeStill([])).toThrow(RangeError);
    const still = makeStill([{ frame: 0, lead: a, swapped: a }]);
    expect(new SplitStudy(still).finish()).toMatchObject({ verdict: 'cannot tell', reasons: [expect.stringMatching(/share no frame/u), expect.anything()] });
    const running = new SplitStudy(still);
    running.add({ frame: 3, lead: a, swapped: a });
    expect(() => { running.add({ frame: 3, lead: a, swapped: a }); }).toThrow(RangeError);
  });
});

describe('whether a static line bears another sync', () => {
  const scene = make([man(85, 40), man(235, 215)], [man(85, 215), man(235, 40)]);
  const withAlone = (alone: ScenePass): string | undefined => {
    const running = new SplitStudy(makeStill(pairsOf(scene), scene.clean[0]));
    for (const pair of pairsOf(scene)) running.add(pair);
    for (const frame of makeScene({ frames: 2, swapped: alone }).swapped) running.addAlone(frame);
    return running.finish().slip;
  };

  it('does when nobody comes near it in the frames beyond', () => {
    expect(withAlone({ figures: [man(60, 215), man(260, 40)] })).toBe('any offset');
  });

  it('does not when somebody walks through it there', () => {
    expect(withAlone({ figures: [man(85, 215), ...[110, 130, 150, 170, 190, 210].map((x) => man(x, 40))] })).toBe('this offset only');
  });

  it('does not when the camera moves', () => {
    expect(studySplit(pairsOf(scene), scene.clean[0], { lockedOff: false }).slip).toBe('this offset only');
  });
});

describe('a line in words and in px', () => {
  it('keeps every column when it is reduced to the points where it turns', () => {
    const steps = fc.array(fc.integer({ min: -1, max: 1 }), { minLength: 1, maxLength: 60 });
    fc.assert(fc.property(steps, (turns) => {
      let x = 100;
      const columns = turns.map((step) => (x += step));
      const line = pointsOf(columns);
      columns.forEach((column, y) => { expect(columnAt(line, y + 0.5)).toBeCloseTo(column + 0.5, 9); });
    }));
  });

  it('is scaled to the plate in both directions, margin and corridor with it', () => {
    const scene = make([man(85, 40), man(235, 215)], [man(85, 215), man(235, 40)]);
    const proxy = study(scene);
    const plate = scaleSplit(proxy, { width: 4096, height: 2160 });
    expect(plate.line.at(-1)).toEqual([2160, (proxy.line.at(-1)?.[1] ?? 0) * 12.8]);
    expect(plate.corridor?.narrowest).toBeCloseTo((proxy.corridor?.narrowest ?? 0) * 12.8);
    expect(plate.margin?.px).toBeCloseTo((proxy.margin?.px ?? 0) * 12.8);
    expect(plate.margin?.percentOfWidth).toBe(proxy.margin?.percentOfWidth);
  });

  it('grades its room as 100 px and 30 px of a plate 4096 px wide do', () => {
    // Common practice, no source: 4 px each side of a 320 px proxy are 102 px at 4096.
    expect(marginOf(4, 320)).toMatchObject({ px: 8, percentOfWidth: 2.5, grade: 'good' });
    expect(marginOf(2, 320).grade).toBe('fair');
    expect(marginOf(1, 320).grade).toBe('poor');
  });
});
