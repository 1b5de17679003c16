import { sameName, sameSerial } from '../material/agreement.ts';
import type { Chosen, Clip } from '../material/clip.ts';
import type { Finding, Quantity, Severity } from '../material/finding.ts';
import type { Stop } from '../material/statement.ts';
import type { Tolerances } from '../material/tolerance.ts';
import { exactStop, stopDifference, stopsOfDensity } from '../optics/exposure.ts';
import { trackOf } from './along-take.ts';
import { figure, isPossible, metres, readAt } from './evidence.ts';
import { allFilters, densityOf, otherFilters } from './filters.ts';
import { checkNumber } from './number-differs.ts';
import type { MatchedPasses } from './passes.ts';
import { raiseDifference } from './raise.ts';
import { severityBeyond } from './severity.ts';

/** The passes must be seen through the same glass: lens, focal length, focus, iris, filters, squeeze. */
export function checkLens(passes: MatchedPasses, tolerances: Tolerances): readonly Finding[] {
  return [
    ...checkLensItself(passes),
    ...checkFocalLength(passes, tolerances),
    ...checkFocus(passes, tolerances),
    ...checkStop(passes, tolerances),
    ...checkFilters(passes, tolerances),
    ...checkSqueeze(passes),
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

function checkFocalLength(passes: MatchedPasses, { focalLengthPercent }: Tolerances): readonly Finding[] {
  return checkNumber(passes, {
    code: 'focal-length-differs',
    what: 'focal length',
    start: ({ lens }) => lens.focalLengthMm,
    track: 'focalLength',
    apart: (lead, pass) => (isPossible(lead) && isPossible(pass) ? (Math.abs(pass - lead) / lead) * 100 : Number.NaN),
    tolerance: focalLengthPercent,
    unit: '%',
    decimals: 3,
    text: (mm) => `${figure(mm, 2)} mm`,
    by: (lead, pass, percent) => `everything is ${percent} % ${pass > lead ? 'larger' : 'smaller'} in the frame`,
  });
}

function checkFocus(passes: MatchedPasses, { focusDioptre }: Tolerances): readonly Finding[] {
  return checkNumber(passes, {
    code: 'focus-differs',
    what: 'focus',
    start: ({ lens }) => lens.focusDistanceM,
    track: 'focusDistance',
    // Dioptres, because a step of 10 cm is much at 1 m and nothing at 20 m; infinity is 0.
    apart: (lead, pass) => (lead > 0 && pass > 0 ? Math.abs(1 / pass - 1 / lead) : Number.NaN),
    tolerance: focusDioptre,
    unit: 'dioptre',
    decimals: 4,
    text: metres,
    by: (lead, pass) => `sharpness lies ${pass > lead ? 'farther away' : 'nearer'}`,
  });
}

function checkStop(passes: MatchedPasses, { stopStops }: Tolerances): readonly Finding[] {
  const kinds = new Set([...scalesOf(passes.lead), ...scalesOf(passes.pass)]);
  // T and f differ by what the glass swallows, so a T is never held against an f.
  if (kinds.has('T') && kinds.has('f')) return [];
  const mark = kinds.has('T') ? 'T' : kinds.has('f') ? 'f/' : 'stop ';
  return checkNumber(passes, {
    code: 'stop-differs',
    what: 'stop',
    start: ({ lens }) => irisNumber(lens.stop),
    track: 'stop',
    apart: (a, b) => (isPossible(a, DARKEST_STOP) && isPossible(b, DARKEST_STOP) ? Math.abs(stopDifference(exactStop(a), exactStop(b))) : Number.NaN),
    tolerance: stopStops,
    unit: 'stops',
    decimals: 3,
    text: (number) => `${mark}${figure(number, 2)}`,
    by: (a, b, stops) => `${figure(stops, 2)} stop ${b > a ? 'darker, with more in focus' : 'brighter, with less in focus'}`,
  });
}

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

function checkFilters(passes: MatchedPasses, { ndStops }: Tolerances): readonly Finding[] {
  const a = passes.lead.lens.filters;
  const b = passes.pass.lens.filters;
  if (a === undefined || b === undefined) return [];
  const leadDensity = densityOf(a.value);
  const passDensity = densityOf(b.value);
  const texts = { what: 'filter', leadText: filterText(a.value.text), passText: filterText(b.value.text) };
  const evidence = [readAt(passes.lead, 'filter', a), readAt(passes.pass, 'filter', b)];
  if (leadDensity === undefined || passDensity === undefined) {
    if (allFilters(a.value) === allFilters(b.value)) return [];
    return raiseDifference(passes, 'filter-differs', { severity: 'warn', ...wordsOf(texts), ...texts, evidence });
  }
  const stops = stopsOfDensity(passDensity) - stopsOfDensity(leadDensity);
  const severity = severityBeyond(Math.abs(stops), ndStops);
  if (severity !== undefined) {
    const difference = figure(Math.abs(stops), 3);
    return raiseDifference(passes, 'filter-differs', {
      severity,
      measured: { value: difference, unit: 'stops' },
      allowed: { value: ndStops.warn, unit: 'stops' },
      ...texts,
      by: `${figure(difference, 2)} stop ${stops > 0 ? 'darker' : 'brighter'}`,
      evidence,
    });
  }
  if (otherFilters(a.value) === otherFilters(b.value)) return [];
  return raiseDifference(passes, 'filter-differs', { severity: 'warn', ...wordsOf(texts), ...texts, evidence });
}

function filterText(text: string): string {
  return text.trim() === '' ? 'no filter' : text.trim();
}

function wordsOf({ leadText, passText }: { leadText: string; passText: string }): { measured: Quantity; allowed: Quantity } {
  return { measured: { value: passText, unit: '' }, allowed: { value: leadText, unit: '' } };
}

function checkSqueeze(passes: MatchedPasses): readonly Finding[] {
  return checkNumber(passes, {
    code: 'squeeze-differs',
    what: 'squeeze',
    start: ({ lens }) => lens.squeeze,
    apart: (lead, pass) => Math.abs(pass - lead),
    // Not a matter of degree: 1.3 and 1.33 are one anamorphic written two ways, 1.5 is another lens.
    tolerance: { warn: 0.04, stop: 0.04 },
    unit: '',
    decimals: 3,
    text: (squeeze) => `${figure(squeeze, 2)}`,
  });
}
