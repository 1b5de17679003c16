import type { BlurOnPlane } from '../optics/blur-cost.ts';
import { blurCost } from '../optics/blur-cost.ts';
import type { CameraState } from '../optics/camera-state.ts';
import { differenceCost } from '../optics/difference-cost.ts';
import type { Planes } from '../optics/planes.ts';
import type { Apart } from './along-take.ts';
import type { Cost, Decision } from './cost.ts';
import { assumed, byPx, plateText, pxText, toMeasure, untold, whyNoCost } from './cost.ts';
import { metres } from './evidence.ts';
import type { PairOptics } from './pair-optics.ts';
import { severityBeyond } from './severity.ts';

/** Another focus: sharpness decides. How the picture grows or shrinks with it (breathing) is an estimate that decides nothing. */
export function focusCost(optics: PairOptics, apart: Apart): Cost {
  const state = optics.camerasAt(apart).lead;
  const [lead, pass] = [{ ...state, focusM: apart.lead }, { ...state, focusM: apart.pass }];
  const sharpness = sharpnessCost(optics, lead, pass);
  if ('why' in sharpness) return untold(sharpness.why, 'focus_dioptre');
  return { ...sharpness, words: `${sharpness.words}${breathingText(optics, lead, pass)}`, evidence: sharpness.evidence };
}

/** What two settings of a lens do to sharpness; `why` when it cannot be told. */
export function sharpnessCost(optics: PairOptics, lead: CameraState, pass: CameraState): (Cost & { readonly decided: Decision }) | { readonly why: string } {
  const { plate, planes, noPx, limits } = optics;
  if (plate === undefined || noPx !== '') return { why: noPx };
  const blur = blurCost(lead, pass, plate.plate, withFar(planes));
  if (blur.kind !== 'blur') return { why: whyNoCost(blur) };
  const missing = planes.farM === undefined ? ['background distance'] : [];
  const farWords = planes.farM === undefined ? ['background distance is not on record: it is taken at infinity'] : [];
  return {
    decided: byPx(severityBeyond(blur.worstPx, limits.blurPx), blur.worstPx, limits.blurPx.warn),
    words: `Blur on ${plateText(optics)}: ${blur.planes.map(planeText).join('; ')}. The sharper one can be softened to match, the softer one not sharpened.`,
    evidence: [
      ...assumed([...blur.assumptions, ...plate.assumptions, ...farWords]),
      ...(missing.length === 0 ? [] : [`for the blur of the background, ${toMeasure(missing)}`]),
    ],
  };
}

/** Blur differs no more at any distance than it does far behind both, so infinity stands in for a background nobody measured. */
function withFar(planes: Planes): Planes {
  return planes.farM === undefined ? { ...planes, farM: Number.POSITIVE_INFINITY } : planes;
}

function planeText({ distanceM, firstPx, secondPx }: BlurOnPlane): string {
  return `at ${distanceM === 'infinity' ? distanceM : metres(distanceM)} ${pxText(firstPx)} in the lead, ${pxText(secondPx)} in the pass`;
}

function breathingText(optics: PairOptics, lead: CameraState, pass: CameraState): string {
  const { plate, planes } = optics;
  const cost = plate === undefined ? undefined : differenceCost(lead, pass, plate.plate, planes, ['focus']);
  if (cost?.kind !== 'cost' || cost.filmed.edgePx < 0.05) return '';
  return ` The lens may breathe by about ${pxText(cost.filmed.edgePx)} at the edge (a thin-lens estimate; real lenses breathe less, more or the other way), which a scale undoes.`;
}
