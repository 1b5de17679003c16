import type { ClipOptics } from '../../core/checks/clip-optics.ts';
import { refusalText } from '../../core/checks/cost.ts';
import type { AngleOfView } from '../../core/optics/angle-of-view.ts';
import type { Tolerance } from '../../core/optics/tolerance-for.ts';
import { tidyNumber } from './order.ts';

/** What the optics of a clip come to, as JSON: lengths in m and mm, angles in degrees, "infinity" as a word; null where a value is missing. */
export function opticsOf(optics: ClipOptics) {
  const { plate, figures, circleMm, circlePx, limits, sensorFrom, box } = optics;
  const { angles, anglesFocused, field, sharp, hyperfocalM } = figures;
  return {
    sensor: plate === undefined ? null : { widthMm: tidyNumber(plate.sensor.widthMm), heightMm: tidyNumber(plate.sensor.heightMm), squeeze: tidyNumber(plate.squeeze), from: sensorFrom ?? null },
    circleOfConfusion: { mm: tidyNumber(circleMm), px: circlePx === undefined ? null : tidyNumber(circlePx) },
    fieldOfView: { atInfinity: anglesAsJson(angles), asFocused: anglesAsJson(anglesFocused), sizeAtFocus: field === undefined ? null : { widthM: tidyNumber(field.widthM), heightM: tidyNumber(field.heightM) } },
    depthOfField: sharp === undefined ? null : { nearM: tidyNumber(sharp.nearM), farM: sharp.farM === 'infinity' ? sharp.farM : tidyNumber(sharp.farM) },
    hyperfocalM: hyperfocalM === undefined ? null : tidyNumber(hyperfocalM),
    limits: limits === undefined ? null : { shiftPx: tidyNumber(limits.shiftPx), parallaxPx: tidyNumber(limits.parallaxPx), blurPx: tidyNumber(limits.blurPx), stops: tidyNumber(limits.stops) },
    tolerances: box.map(({ of, tolerance }) => ({ of, ...toleranceAsJson(tolerance) })),
    assumptions: optics.assumptions,
    missing: figures.missing,
    impossible: optics.refusals.map(refusalText),
  };
}

function anglesAsJson(angles: AngleOfView | undefined) {
  if (angles === undefined) return null;
  return { horizontalDeg: tidyNumber(angles.horizontalDeg), verticalDeg: tidyNumber(angles.verticalDeg), diagonalDeg: tidyNumber(angles.diagonalDeg) };
}

function toleranceAsJson(tolerance: Tolerance) {
  switch (tolerance.kind) {
    case 'plus-minus': return { kind: tolerance.kind, amount: tidyNumber(tolerance.amount), unit: tolerance.unit, limitedBy: tolerance.limitedBy };
    case 'range': return { kind: tolerance.kind, nearestM: tidyNumber(tolerance.nearestM), farthestM: tolerance.farthestM === 'infinity' ? tolerance.farthestM : tidyNumber(tolerance.farthestM), limitedBy: tolerance.limitedBy };
    case 'free': return { kind: tolerance.kind, why: tolerance.why };
    case 'unknown': return { kind: tolerance.kind, missing: tolerance.missing };
    case 'refused': return { kind: tolerance.kind, impossible: tolerance.refusals.map(refusalText) };
  }
  return tolerance satisfies never;
}
