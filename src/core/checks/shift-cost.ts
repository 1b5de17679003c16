import { differenceCost } from '../optics/difference-cost.ts';
import { withValue } from '../optics/parts.ts';
import { focalPixels } from '../optics/plate.ts';
import type { ReframingLoss } from '../optics/reframing-loss.ts';
import { rollLoss, tiltLoss, zoomLoss } from '../optics/reframing-loss.ts';
import type { Apart } from './along-take.ts';
import type { Cost } from './cost.ts';
import { assumed, byPx, placesText, pxText, untold, whyNoCost, worstPlace } from './cost.ts';
import { figure } from './evidence.ts';
import type { PairOptics } from './pair-optics.ts';
import { isAbove, severityBeyond } from './severity.ts';

/** A difference that turns or scales the picture about its middle: a warp can undo all of it, and pays at the borders. */
export function shiftCost(of: Shifted, instead: string): (optics: PairOptics, apart: Apart) => Cost {
  return (optics, apart) => {
    const { plate, planes, noPx, limits } = optics;
    if (plate === undefined || noPx !== '') return untold(noPx, instead);
    const cameras = optics.camerasAt(apart);
    const cost = differenceCost(withValue(of, cameras.lead, apart.lead), withValue(of, cameras.pass, apart.pass), plate.plate, planes, [of]);
    if (cost.kind !== 'cost') return untold(whyNoCost(cost), instead);
    const px = cost.filmed.worstPx;
    return {
      decided: byPx(severityBeyond(px, limits.shiftPx), px, limits.shiftPx.warn),
      worst: worstPlace(cost.filmed),
      words: `That is ${placesText(cost.filmed, optics)}; ${undoText(of, px, cost.keystonePx, apart, optics)}.`,
      evidence: assumed([...cost.assumptions, ...(cost.needsSensor ? plate.assumptions : [])]),
    };
  };
}

type Shifted = 'focalLength' | 'tilt' | 'roll';

const WARPS = { focalLength: 'a scale', tilt: 'a shift', roll: 'a turn' } as const;

/** What undoes it, and what that costs once it is more than the shift limit allows. */
function undoText(of: Shifted, px: number, keystonePx: number, apart: Apart, optics: PairOptics): string {
  const { limits } = optics;
  const pin = of === 'tilt' && isAbove(keystonePx, limits.shiftPx.warn / 4) ? ` and, for the ${pxText(keystonePx)} a shift leaves, a corner pin` : '';
  const lost = isAbove(px, limits.shiftPx.stop) ? lossText(of, apart, optics) : '';
  return `a warp can undo it (${WARPS[of]}${pin})${lost}`;
}

/** "at the cost of 30 % of the picture's width and 30 % of its height (51 % of its area)"; a strip of the height for a tilt. */
function lossText(of: Shifted, apart: Apart, optics: PairOptics): string {
  const lost = lossOf(of, apart, optics);
  if (lost === undefined) return '';
  const percent = (share: number): string => `${figure(share * 100, 1)} %`;
  if (lost.width === 0) return `, at the cost of ${percent(lost.height)} of the picture's height`;
  return `, at the cost of ${percent(lost.width)} of the picture's width and ${percent(lost.height)} of its height (${percent(1 - (1 - lost.width) * (1 - lost.height))} of its area)`;
}

function lossOf(of: Shifted, { lead, pass, frames }: Apart, { plate, camerasAt }: PairOptics): ReframingLoss | undefined {
  if (plate === undefined) return undefined;
  const { widthPx, heightPx } = plate.plate;
  if (of === 'focalLength') return zoomLoss(lead, pass);
  if (of === 'roll') return rollLoss(pass - lead, widthPx, heightPx);
  const mm = camerasAt(frames === undefined ? {} : { frames }).lead.focalLengthMm;
  return mm === undefined ? undefined : tiltLoss(pass - lead, focalPixels(plate.plate, mm).focalY, heightPx);
}
