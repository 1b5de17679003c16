import type { Finding } from '../material/finding.ts';
import type { Tolerances } from '../material/tolerance.ts';
import { figure, metres } from './evidence.ts';
import type { SharedNumber } from './number-differs.ts';
import { checkNumber } from './number-differs.ts';
import type { MatchedPasses } from './passes.ts';
import { compareSeverity } from './severity.ts';

/** The camera must stand where it stood: height, tilt, roll, distances. */
export function checkPosition(passes: MatchedPasses, tolerances: Tolerances): readonly Finding[] {
  return [
    ...checkNumber(passes, HEIGHT, tolerances.heightMm),
    ...checkNumber(passes, TILT, tolerances.tiltDeg),
    ...checkNumber(passes, ROLL, tolerances.rollDeg),
    ...checkDistances(passes, tolerances),
  ];
}

const HEIGHT: SharedNumber = {
  code: 'height-differs',
  what: 'camera height',
  start: ({ position }) => position.heightM,
  apart: millimetresApart,
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

const TILT: SharedNumber = { ...ANGLE, code: 'tilt-differs', what: 'tilt', start: ({ position }) => position.tiltDeg, track: 'tilt' };
const ROLL: SharedNumber = { ...ANGLE, code: 'roll-differs', what: 'roll', start: ({ position }) => position.rollDeg, track: 'rollAngle' };

const DISTANCE = {
  code: 'position-differs' as const,
  apart: millimetresApart,
  unit: 'mm',
  decimals: 1,
  text: metres,
  by: (lead: number, pass: number, mm: number): string => `${mm} mm ${pass > lead ? 'farther away' : 'nearer'}`,
};

const SUBJECT_DISTANCE: SharedNumber = { ...DISTANCE, what: 'subject distance', start: ({ position }) => position.subjectDistanceM };
const BACKGROUND_DISTANCE: SharedNumber = { ...DISTANCE, what: 'background distance', start: ({ position }) => position.backgroundDistanceM };

/** Subject and background distance are one fault, a camera that stands elsewhere: the worse of the two is said. */
function checkDistances(passes: MatchedPasses, { distanceMm }: Tolerances): readonly Finding[] {
  const found = [
    // Nobody stands in a clean plate, and a performer before a screen has no set behind.
    ...(passes.role === 'clean' ? [] : checkNumber(passes, SUBJECT_DISTANCE, distanceMm)),
    ...(passes.role === 'element' ? [] : checkNumber(passes, BACKGROUND_DISTANCE, distanceMm)),
  ];
  return found.sort((a, b) => compareSeverity(a.severity, b.severity) || size(b) - size(a)).slice(0, 1);
}

function size({ measured }: Finding): number {
  return typeof measured?.value === 'number' ? measured.value : 0;
}

function millimetresApart(lead: number, pass: number): number {
  return Math.abs(pass - lead) * 1000;
}

/** 359.9° and 0.1° are 0.2° apart. */
function degreesApart(lead: number, pass: number): number {
  const turn = Math.abs(pass - lead) % 360;
  return Math.min(turn, 360 - turn);
}
