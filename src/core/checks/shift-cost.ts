import { differenceCost } from '../optics/difference-cost.ts';
import { withValue } from '../optics/parts.ts';
import type { Apart } from './along-take.ts';
import type { Cost } from './cost.ts';
import { assumed, byPx, placesText, pxText, untold, whyNoCost } from './cost.ts';
import { figure } from './evidence.ts';
import type { PairOptics } from './pair-optics.ts';
import { isAbove, severityBeyond } from './severity.ts';

/** A difference that turns or scales the picture about its middle: a warp can undo all of it, and pays at the borders. */
export function shiftCost(of: 'focalLength' | 'tilt' | 'roll', instead: string): (optics: PairOptics, apart: Apart) => Cost {
  return (optics, apart) => {
    const { plate, planes, noPx, limits } = optics;
    if (plate === undefined || noPx !== '') return untold(noPx, instead);
    const cameras = optics.camerasAt(apart);
    const cost = differenceCost(withValue(of, cameras.lead, apart.lead), withValue(of, cameras.pass, apart.pass), plate.plate, planes, [of]);
    if (cost.kind !== 'cost') return untold(whyNoCost(cost), instead);
    const px = cost.filmed.worstPx;
    return {
      decided: byPx(severityBeyond(px, limits.shiftPx), px, limits.shiftPx.warn),
      words: `That is ${placesText(cost.filmed, optics)}; ${undoText(of, px, cost.keystonePx, optics)}.`,
      evidence: assumed([...cost.assumptions, ...(cost.needsSensor ? plate.assumptions : [])]),
    };
  };
}

const WARPS = { focalLength: 'a scale', tilt: 'a shift', roll: 'a turn' } as const;

/** What undoes it, and what that costs once it is more than the shift limit allows. */
function undoText(of: keyof typeof WARPS, px: number, keystonePx: number, { plate, limits }: PairOptics): string {
  const pin = of === 'tilt' && isAbove(keystonePx, limits.shiftPx.warn / 4) ? ` and, for the ${pxText(keystonePx)} a shift leaves, a corner pin` : '';
  const lost = isAbove(px, limits.shiftPx.stop) ? `, at the cost of ${figure((px / (plate?.plate.widthPx ?? 1)) * 100, 1)} % of the picture's width` : '';
  return `a warp can undo it (${WARPS[of]}${pin})${lost}`;
}
