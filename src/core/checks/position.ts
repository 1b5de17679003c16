import type { Chosen, Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import type { Tolerance, Tolerances } from '../material/tolerance.ts';
import { figure, metres } from './evidence.ts';
import { checkNumber } from './number-differs.ts';
import type { MatchedPasses } from './passes.ts';
import { compareSeverity } from './severity.ts';

/** The camera must stand where it stood: height, tilt, roll, distances. */
export function checkPosition(passes: MatchedPasses, tolerances: Tolerances): readonly Finding[] {
  return [
    ...checkHeight(passes, tolerances),
    ...checkAngle(passes, tolerances.tiltDeg, 'tilt'),
    ...checkAngle(passes, tolerances.rollDeg, 'roll'),
    ...checkDistances(passes, tolerances),
  ];
}

function checkHeight(passes: MatchedPasses, { heightMm }: Tolerances): readonly Finding[] {
  return checkNumber(passes, {
    code: 'height-differs',
    what: 'camera height',
    start: ({ position }) => position.heightM,
    apart: millimetresApart,
    tolerance: heightMm,
    unit: 'mm',
    decimals: 1,
    text: metres,
    by: (lead, pass, mm) => `${mm} mm ${pass > lead ? 'higher' : 'lower'}`,
  });
}

function checkAngle(passes: MatchedPasses, tolerance: Tolerance, angle: 'tilt' | 'roll'): readonly Finding[] {
  return checkNumber(passes, {
    code: `${angle}-differs`,
    what: angle,
    start: ({ position }) => (angle === 'tilt' ? position.tiltDeg : position.rollDeg),
    track: angle === 'tilt' ? 'tilt' : 'rollAngle',
    apart: degreesApart,
    tolerance,
    unit: '°',
    decimals: 3,
    text: (degrees) => `${figure(degrees, 2)}°`,
    by: (_lead, _pass, degrees) => `${degrees}° apart`,
  });
}

/** Subject and background distance are one fault, a camera that stands elsewhere: the worse of the two is said. */
function checkDistances(passes: MatchedPasses, { distanceMm }: Tolerances): readonly Finding[] {
  const check = (what: string, start: (clip: Clip) => Chosen<number> | undefined): readonly Finding[] =>
    checkNumber(passes, {
      code: 'position-differs',
      what,
      start,
      apart: millimetresApart,
      tolerance: distanceMm,
      unit: 'mm',
      decimals: 1,
      text: metres,
      by: (lead, pass, mm) => `${mm} mm ${pass > lead ? 'farther away' : 'nearer'}`,
    });
  const found = [
    // Nobody stands in a clean plate, and a performer before a screen has no set behind.
    ...(passes.role === 'clean' ? [] : check('subject distance', ({ position }) => position.subjectDistanceM)),
    ...(passes.role === 'element' ? [] : check('background distance', ({ position }) => position.backgroundDistanceM)),
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
