import { sameName, sameSerial } from '../material/agreement.ts';
import type { Chosen, Clip } from '../material/clip.ts';
import type { Finding, Severity } from '../material/finding.ts';
import type { Filters, Stop } from '../material/statement.ts';
import type { Tolerances } from '../material/tolerance.ts';
import { exactStop, stopDifference, stopsOfDensity } from '../optics/exposure.ts';
import { trackOf } from './along-take.ts';
import { stopAsWritten } from './as-written.ts';
import type { Cost, Decision } from './cost.ts';
import { figure, isPossible, metres, readAt } from './evidence.ts';
import { allFilters, densityOf, otherFilters } from './filters.ts';
import { focusCost } from './focus-cost.ts';
import { densityCost, irisCost } from './light-cost.ts';
import type { SharedNumber } from './number-differs.ts';
import { checkNumber } from './number-differs.ts';
import type { OpticsOfPair } from './pair-optics.ts';
import type { MatchedPasses } from './passes.ts';
import type { FoundDifference } from './raise.ts';
import { raiseDifference } from './raise.ts';
import { severityOfStops } from './severity.ts';
import { shiftCost } from './shift-cost.ts';

/** The passes must be seen through the same glass: lens, focal length, focus, iris, filters, squeeze. */
export function checkLens(passes: MatchedPasses, tolerances: Tolerances, optics: OpticsOfPair): readonly Finding[] {
  return [
    ...checkLensItself(passes),
    ...checkNumber(passes, FOCAL_LENGTH, tolerances.focalLengthPercent, optics),
    ...checkNumber(passes, FOCUS, tolerances.focusDioptre, optics),
    ...checkStop(passes, tolerances, optics),
    ...checkFilters(passes, tolerances, optics),
    ...checkNumber(passes, SQUEEZE, SAME_SQUEEZE, optics),
  ];
}

/** The serial decides when both are known, since a lens may be written in many ways; else the model does. */
function checkLensItself(passes: MatchedPasses): readonly Finding[] {
  const { lead, pass } = passes;
  const bySerial = lead.lens.serial !== undefined && pass.lens.serial !== undefined;
  const same = bySerial ? sameSerial : sameName;
  const a = bySerial ? lead.lens.serial : lead.lens.model;
  const b = bySerial ? pass.lens.serial : pass.lens.model;
  if (a === undefined || b === undefined || same(a.value, b.value)) return [];
  // Names from two hands ("SP 35" in a log, "Signature 35mm" in a file) may still be one lens.
  const severity: Severity = bySerial || a.source.kind === b.source.kind ? 'stop' : 'warn';
  const what = bySerial ? 'lens serial' : 'lens';
  return raiseDifference(passes, 'lens-differs', {
    severity,
    measured: { value: b.value, unit: '' },
    allowed: { value: a.value, unit: '' },
    what: 'lens',
    leadText: lensText(lead, bySerial, a.value),
    passText: lensText(pass, bySerial, b.value),
    evidence: [readAt(lead, what, a), readAt(pass, what, b)],
  });
}

function lensText({ lens }: Clip, bySerial: boolean, value: string): string {
  if (!bySerial) return value;
  return lens.model === undefined ? `serial ${value}` : `${lens.model.value}, serial ${value}`;
}

const FOCAL_LENGTH: SharedNumber = {
  code: 'focal-length-differs',
  what: 'focal length',
  start: ({ lens }) => lens.focalLengthMm,
  track: 'focalLength',
  apart: (lead, pass) => (isPossible(lead) && isPossible(pass) ? (Math.abs(pass - lead) / lead) * 100 : Number.NaN),
  unit: '%',
  decimals: 3,
  text: (mm) => `${figure(mm, 2)} mm`,
  by: (lead, pass, percent) => `everything is ${percent} % ${pass > lead ? 'larger' : 'smaller'} in the frame`,
  cost: shiftCost('focalLength', 'focal_length_percent'),
  everyStepCounts: true,
};

const FOCUS: SharedNumber = {
  code: 'focus-differs',
  what: 'focus',
  start: ({ lens }) => lens.focusDistanceM,
  track: 'focusDistance',
  // Dioptres, because a step of 10 cm is much at 1 m and nothing at 20 m; infinity is 0.
  apart: (lead, pass) => (lead > 0 && pass > 0 ? Math.abs(1 / pass - 1 / lead) : Number.NaN),
  unit: 'dioptre',
  decimals: 4,
  text: metres,
  by: (lead, pass) => `sharpness lies ${pass > lead ? 'farther away' : 'nearer'}`,
  cost: focusCost,
  everyStepCounts: true,
};

/** T and f differ by what the glass swallows, so a T is never held against an f. */
function checkStop(passes: MatchedPasses, { stopStops }: Tolerances, optics: OpticsOfPair): readonly Finding[] {
  const scales = [...scalesOf(passes.lead), ...scalesOf(passes.pass)];
  if (scales.includes('T') && scales.includes('f')) return [];
  return checkNumber(passes, scales.includes('T') ? T_STOP : scales.includes('f') ? F_STOP : STOP, stopStops, optics);
}

const STOP: SharedNumber = {
  code: 'stop-differs',
  what: 'stop',
  start: ({ lens }) => irisNumber(lens.stop),
  track: 'stop',
  apart: (a, b) => (isPossible(a, DARKEST_STOP) && isPossible(b, DARKEST_STOP) ? Math.abs(stopDifference(exactStop(a), exactStop(b))) : Number.NaN),
  unit: 'stops',
  decimals: 3,
  text: (number) => `${figure(number, 2)}`,
  written: stopAsWritten,
  by: (a, b, stops) => `${figure(stops, 2)} stop ${b > a ? 'darker, with more in focus' : 'brighter, with less in focus'}`,
  cost: irisCost('unknown'),
  nominalStops: true,
};
const T_STOP: SharedNumber = { ...STOP, text: (number) => `T${figure(number, 2)}`, cost: irisCost('T') };
const F_STOP: SharedNumber = { ...STOP, text: (number) => `f/${figure(number, 2)}`, cost: irisCost('f') };

/** No iris closes further; a larger number is a misreading. */
const DARKEST_STOP = 512;

/** The scales on which a clip's iris is on record, at its start and along the take. */
function scalesOf(clip: Clip): readonly Stop['kind'][] {
  const along = trackOf(clip, 'stop');
  return [...(clip.lens.stop === undefined ? [] : [clip.lens.stop.value.kind]), ...(along === undefined ? [] : [along.track.stopKind])];
}

function irisNumber(stop: Chosen<Stop> | undefined): Chosen<number> | undefined {
  return stop === undefined ? undefined : { ...stop, value: stop.value.number };
}

function checkFilters(passes: MatchedPasses, { ndStops }: Tolerances, optics: OpticsOfPair): readonly Finding[] {
  const a = passes.lead.lens.filters;
  const b = passes.pass.lens.filters;
  if (a === undefined || b === undefined || sameAsWritten(a.value, b.value)) return [];
  const texts = { what: 'filter', leadText: filterText(a.value.text), passText: filterText(b.value.text) };
  const tell = (found: Pick<FoundDifference, 'severity' | 'measured' | 'allowed' | 'by'>, cost?: Cost): readonly Finding[] =>
    raiseDifference(passes, 'filter-differs', {
      ...texts,
      ...found,
      cost: cost?.words ?? '',
      evidence: [readAt(passes.lead, 'filter', a), readAt(passes.pass, 'filter', b), ...(cost?.evidence ?? [])],
    });
  const other = { severity: 'warn', measured: { value: texts.passText, unit: '' }, allowed: { value: texts.leadText, unit: '' }, by: '' } as const;
  const leadDensity = densityOf(a.value);
  const passDensity = densityOf(b.value);
  if (leadDensity === undefined || passDensity === undefined) return allFilters(a.value) === allFilters(b.value) ? [] : tell(other);
  const stops = stopsOfDensity(passDensity) - stopsOfDensity(leadDensity);
  const severity = severityOfStops(Math.abs(stops), ndStops);
  if (severity === undefined) return otherFilters(a.value) === otherFilters(b.value) ? [] : tell(other);
  const difference = figure(Math.abs(stops), 3);
  const by = `${figure(difference, 2)} stop ${stops > 0 ? 'darker' : 'brighter'}`;
  const cost = densityCost(optics());
  const byDensity: Decision = { severity, measured: { value: difference, unit: 'stops' }, allowed: { value: ndStops.warn, unit: 'stops' } };
  const decided = cost.decided ?? byDensity;
  // Light that the iris or the shutter makes up for says nothing of a pola or a diffusion.
  const sameOthers = otherFilters(a.value) === otherFilters(b.value);
  return tell({ ...decided, severity: decided.severity === 'note' && !sameOthers ? 'warn' : (decided.severity ?? 'note'), by }, cost);
}

function sameAsWritten(a: Filters, b: Filters): boolean {
  return a.text === b.text && a.ndDensity === b.ndDensity;
}

function filterText(text: string): string {
  return text.trim() === '' ? 'no filter' : text.trim();
}

const SQUEEZE: SharedNumber = {
  code: 'squeeze-differs',
  what: 'squeeze',
  start: ({ lens }) => lens.squeeze,
  apart: (lead, pass) => (isPossible(lead) && isPossible(pass) ? Math.abs(pass - lead) : Number.NaN),
  unit: '',
  decimals: 3,
  text: (squeeze) => `${figure(squeeze, 2)}`,
};

/** Not a matter of degree: 1.3 and 1.33 are one anamorphic written two ways, 1.5 is another lens. */
const SAME_SQUEEZE = { warn: 0.04, stop: 0.04 };
