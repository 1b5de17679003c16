import type { Finding } from '../material/finding.ts';
import type { Tolerances } from '../material/tolerance.ts';
import type { Apart } from './along-take.ts';
import { distanceOf } from './camera-of-clip.ts';
import type { Cost, Decision } from './cost.ts';
import { figure, metres } from './evidence.ts';
import type { SharedNumber } from './number-differs.ts';
import { checkNumber } from './number-differs.ts';
import type { OpticsOfPair, PairOptics } from './pair-optics.ts';
import { AHEAD, RAISED, parallaxCost } from './parallax-cost.ts';
import type { MatchedPasses } from './passes.ts';
import { compareSeverity, isAbove } from './severity.ts';
import { shiftCost } from './shift-cost.ts';

/** The camera must stand where it stood: height, tilt, roll, distances. */
export function checkPosition(passes: MatchedPasses, tolerances: Tolerances, optics: OpticsOfPair): readonly Finding[] {
  return [
    ...checkNumber(passes, { ...HEIGHT, cost: parallaxCost(RAISED, tolerances.tiltDeg.warn) }, tolerances.heightMm, optics),
    ...checkNumber(passes, TILT, tolerances.tiltDeg, optics),
    ...checkNumber(passes, ROLL, tolerances.rollDeg, optics),
    ...checkDistances(passes, tolerances, optics),
  ];
}

const HEIGHT: SharedNumber = {
  code: 'height-differs',
  what: 'camera height',
  start: ({ position }) => position.heightM,
  apart: heightsApart,
  unit: 'mm',
  decimals: 1,
  text: metres,
  by: (lead, pass, mm) => `${mm} mm ${pass > lead ? 'higher' : 'lower'}`,
};

const ANGLE = {
  apart: degreesApart,
  unit: '°',
  decimals: 3,
  text: (degrees: number): string => `${figure(degrees, 2)}°`,
  by: (_lead: number, _pass: number, degrees: number): string => `${degrees}° apart`,
};

const TILT: SharedNumber = {
  ...ANGLE, code: 'tilt-differs', what: 'tilt', start: ({ position }) => position.tiltDeg, track: 'tilt', cost: shiftCost('tilt', 'tilt_deg'),
};
const ROLL: SharedNumber = {
  ...ANGLE, code: 'roll-differs', what: 'roll', start: ({ position }) => position.rollDeg, track: 'rollAngle', cost: shiftCost('roll', 'roll_deg'),
};

const DISTANCE = {
  code: 'position-differs' as const,
  apart: distancesApart,
  unit: 'mm',
  decimals: 1,
  text: metres,
  by: (lead: number, pass: number, mm: number): string => `${mm} mm ${pass > lead ? 'farther away' : 'nearer'}`,
};

const SUBJECT_DISTANCE: SharedNumber = { ...DISTANCE, what: 'subject distance', start: ({ position }) => position.subjectDistanceM };
const BACKGROUND_DISTANCE: SharedNumber = { ...DISTANCE, what: 'background distance', start: ({ position }) => position.backgroundDistanceM };

/** Subject and background distance are one fault, a camera that stands elsewhere: the worse of the two is said. */
function checkDistances(passes: MatchedPasses, { distanceMm, tiltDeg }: Tolerances, optics: OpticsOfPair): readonly Finding[] {
  const whole = parallaxCost(AHEAD, tiltDeg.warn);
  const subject: SharedNumber = { ...SUBJECT_DISTANCE, cost: (pair, apart, byTolerance) => subjectCost(pair, apart, byTolerance, distanceMm.warn, whole) };
  const found = [
    // Nobody stands in a clean plate, and a performer before a screen has no set behind.
    ...(passes.role === 'clean' ? [] : checkNumber(passes, subject, distanceMm, optics)),
    ...(passes.role === 'element' ? [] : checkNumber(passes, { ...BACKGROUND_DISTANCE, cost: whole }, distanceMm, optics)),
  ];
  return found.sort((a, b) => compareSeverity(a.severity, b.severity) || size(b) - size(a)).slice(0, 1);
}

/**
 * A subject that is nearer is a camera that stands ahead, or a performer on another mark, as when performer and double trade places. A background that has
 * not moved tells: then nothing of the set shifts.
 */
function subjectCost(pair: PairOptics, apart: Apart, byTolerance: Decision, readToMm: number, whole: (optics: PairOptics, apart: Apart) => Cost): Cost {
  const { lead, pass } = pair.passes;
  const [a, b] = [lead.position.backgroundDistanceM?.value, pass.position.backgroundDistanceM?.value];
  if (a !== undefined && b !== undefined && !isAbove(millimetresApart(a, b), readToMm)) {
    const words = 'The background is as far away in both, so the camera stands where it stood and whoever was measured to stood elsewhere.';
    return { decided: { ...byTolerance, severity: byTolerance.severity === undefined ? undefined : 'note' }, words, evidence: [] };
  }
  const { words, evidence } = whole(pair, apart);
  const both = a === undefined || b === undefined ? ' Write background_distance into the report of both passes: it tells which.' : '';
  const doubt = words === '' ? '' : `If the camera stood elsewhere: ${words.charAt(0).toLowerCase()}${words.slice(1)} If the performer did, nothing of the set shifts.${both}`;
  return { words: doubt, evidence: [...evidence.filter((line) => !line.endsWith('decides')), 'a subject distance says where the performer stood as well: distance_mm decides'] };
}

function size({ measured }: Finding): number {
  return typeof measured?.value === 'number' ? measured.value : 0;
}

/** NaN, which is compared with nothing, for a height no camera can have. */
function heightsApart(lead: number, pass: number): number {
  return Math.abs(lead) <= HIGHEST_M && Math.abs(pass) <= HIGHEST_M ? millimetresApart(lead, pass) : Number.NaN;
}

const HIGHEST_M = 100_000;

function distancesApart(lead: number, pass: number): number {
  return distanceOf(lead) === undefined || distanceOf(pass) === undefined ? Number.NaN : millimetresApart(lead, pass);
}

function millimetresApart(lead: number, pass: number): number {
  return Math.abs(pass - lead) * 1000;
}

/** 359.9° and 0.1° are 0.2° apart. NaN for what is no angle of a camera, such as the 409.5 of a tilt sensor out of range. */
function degreesApart(lead: number, pass: number): number {
  if (!(Math.abs(lead) <= 360 && Math.abs(pass) <= 360)) return Number.NaN;
  const turn = Math.abs(pass - lead) % 360;
  return Math.min(turn, 360 - turn);
}
