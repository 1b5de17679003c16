import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { angleOfView } from '../../../src/core/optics/angle-of-view.ts';
import { blurDisc, depthOfField } from '../../../src/core/optics/depth-of-field.ts';
import type { CameraState } from '../../../src/core/optics/camera-state.ts';
import type { DifferenceCost } from '../../../src/core/optics/difference-cost.ts';
import { differenceCost, reframed } from '../../../src/core/optics/difference-cost.ts';
import { exactStop, exposureTime, stopDifference, stopsOfDensity, timeDifference } from '../../../src/core/optics/exposure.ts';
import { breathing, conjugates, imageSize } from '../../../src/core/optics/image-scale.ts';
import { blurLength, rollingSkew } from '../../../src/core/optics/motion-blur.ts';
import { clearBeyond } from '../../../src/core/optics/parallax.ts';
import type { Part } from '../../../src/core/optics/parts.ts';
import type { Planes } from '../../../src/core/optics/planes.ts';
import { focalPixels } from '../../../src/core/optics/plate.ts';
import type { ToleranceOf } from '../../../src/core/optics/tolerance-for.ts';
import { toleranceFor } from '../../../src/core/optics/tolerance-for.ts';
import { limitsOf } from '../../../src/core/material/tolerance.ts';
import { defaultConfig } from '../../support/default-config.ts';
import { LEAD, PLATE, ROOM } from './optics-cameras.ts';

const page = readFileSync(new URL('../../../docs/optics.md', import.meta.url), 'utf8');
/** What the default pipeline asks of a plate of 4096 px. */
const LIMITS = limitsOf(defaultConfig().tolerances, 4096);
const pitch = PLATE.sensor.widthMm / PLATE.widthPx;

function costOf(change: Partial<CameraState>, parts: readonly Part[], planes: Planes = ROOM): DifferenceCost {
  const cost = differenceCost(LEAD, { ...LEAD, ...change }, PLATE, planes, parts);
  if (cost.kind !== 'cost') throw new Error(JSON.stringify(cost));
  return cost;
}

function parallaxOf(cost: DifferenceCost): number {
  return cost.parallax.kind === 'by-distance' ? cost.parallax.pxMetres : cost.parallax.px;
}

function amountOf(of: ToleranceOf): number {
  const tolerance = toleranceFor(of, LIMITS, LEAD, PLATE, ROOM);
  if (tolerance.kind !== 'plus-minus') throw new Error(JSON.stringify(tolerance));
  return tolerance.amount;
}

const HIGHER = { heightM: 1.44 };
const field = depthOfField({ focalLengthMm: 35, stop: 2.8 }, 0.025, 3000);
const focus = toleranceFor('focus', LIMITS, LEAD, PLATE, ROOM);
if (focus.kind !== 'range' || focus.farthestM === 'infinity' || field.farMm === 'infinity') throw new Error('both have an end');
const iris = stopDifference(exactStop(2.8), exactStop(4));
const time = timeDifference(exposureTime(180, 24), exposureTime(172.8, 24));
const density = stopsOfDensity(0.6) - stopsOfDensity(0.3);
const nearUnknown = parallaxOf(costOf(HIGHER, ['height'], { farM: 6, assumptions: [] }));

/** What the page prints, and what gemel computes for it. */
const EXAMPLES: readonly (readonly [printed: string, computed: number, decimals: number])[] = [
  ['**5759.7 px**', focalPixels(PLATE, 35).focalX, 1],
  ['**0.006077 mm**', pitch, 6],
  ['**39.15°**', angleOfView(PLATE.sensor, 35).horizontalDeg, 2],
  ['**50.862 mm**', conjugates(50, 3000).imageMm, 3],
  ['**652.8 px**', imageSize(230, 50, 3000, pitch), 1],
  ['**29.26 px**', costOf({ focalLengthMm: 35.5 }, ['focalLength']).filmed.edgePx, 2],
  ['**33.08 px**', costOf({ focalLengthMm: 35.5 }, ['focalLength']).filmed.cornerPx, 2],
  ['**0.855 %**', breathing(50, 3000, 2000) * 100, 3],
  ['**17.5 px**', breathing(50, 3000, 2000) * 2048, 1],
  ['**4.25 px**', blurDisc({ focalLengthMm: 35, stop: 4 }, 3000, 4000) / pitch, 2],
  ['**2.565 m to', field.nearMm / 1000, 3],
  ['to 3.612 m**', field.farMm / 1000, 3],
  ['**10.05 px**', costOf({ tiltDeg: 0.1 }, ['tilt']).filmed.centrePx, 2],
  ['**11.33 px**', costOf({ panDeg: 0.1 }, ['pan']).filmed.edgePx, 2],
  ['**4.04 px**', costOf({ rollDeg: 0.1 }, ['roll']).filmed.cornerPx, 2],
  ['0.1° of tilt: 0.7 px', costOf({ tiltDeg: 0.1 }, ['tilt']).keystonePx, 1],
  ['1° of tilt is 100.5 px', costOf({ tiltDeg: 1 }, ['tilt']).filmed.centrePx, 1],
  ['/ 2000 = **57.60 px**', costOf(HIGHER, ['height']).filmed.centrePx, 2],
  ['/ 6000 = **19.20 px**', costOf(HIGHER, ['height']).removablePx, 2],
  ['= **38.40 px**', parallaxOf(costOf(HIGHER, ['height'])), 2],
  ['off by 28.80 px', costOf(reframed(LEAD, { ...LEAD, ...HIGHER }, 4), ['height', 'tilt']).filmed.centrePx, 2],
  ['**10.29 px**', costOf({ forwardM: 0.01 }, ['forward'], { nearM: 2, farM: 2, assumptions: [] }).filmed.edgePx, 2],
  ['2 m: **57.60 px**', parallaxOf(costOf(HIGHER, ['height'], { nearM: 2, assumptions: [] })), 2],
  ['2 cm: **115.2**', nearUnknown, 1],
  ['**115.2 m**', clearBeyond(nearUnknown, 1), 1],
  ['= **−1.00**', iris, 2],
  ['180) = **−0.06**', time, 2],
  ['**+1.00** (0.9966)', density, 2],
  ['together | **−0.06** stop', iris + time + density, 2],
  ['**20.0 px**', blurLength(40, 180), 1],
  ['**19.2 px**', blurLength(40, 172.8), 1],
  ['**7.1 px**', rollingSkew(40, 0.0074, 24), 1],
  ['**± 0.5 mm**', amountOf('height'), 1],
  ['**± 1.3 mm**', amountOf('forward'), 1],
  ['**± 0.019°**', amountOf('tilt'), 3],
  ['**± 0.018°**', amountOf('pan'), 3],
  ['**± 0.049°**', amountOf('roll'), 3],
  ['**± 0.03 mm**', amountOf('focalLength'), 2],
  ['**1.949 m to', focus.nearestM, 3],
  ['to 2.054 m**', focus.farthestM, 3],
  ['**± 12.1°**', amountOf('shutter'), 1],
];

describe('the page on optics', () => {
  it.each(EXAMPLES)('prints "%s" and computes it', (printed, computed, decimals) => {
    expect(page).toContain(printed);
    expect(printed.replace('−', '-').replace(/,(?=\d)/g, '')).toContain(computed.toFixed(decimals));
  });

  it('gives the parallax that stays when the operator re-frames', () => {
    expect(parallaxOf(costOf(reframed(LEAD, { ...LEAD, ...HIGHER }, 4), ['height', 'tilt'], ROOM))).toBeCloseTo(38.4, 0);
  });
});
