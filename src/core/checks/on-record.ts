import type { Clip } from '../material/clip.ts';
import type { Finding, Severity } from '../material/finding.ts';
import { trackOf } from './along-take.ts';
import type { MatchedPasses } from './passes.ts';
import { raise } from './raise.ts';
import type { DifferenceCode } from './relevance.ts';
import { worstFor } from './relevance.ts';

/** What can be compared, in the words of the trade, and where a clip keeps it. */
const COMPARED: readonly (readonly [DifferenceCode, string, (clip: Clip) => unknown])[] = [
  ['lens-differs', 'lens', ({ lens }) => lens.serial ?? lens.model],
  ['focal-length-differs', 'focal length', (clip) => clip.lens.focalLengthMm ?? trackOf(clip, 'focalLength')],
  ['focus-differs', 'focus', (clip) => clip.lens.focusDistanceM ?? trackOf(clip, 'focusDistance')],
  ['stop-differs', 'stop', (clip) => clip.lens.stop ?? trackOf(clip, 'stop')],
  ['filter-differs', 'filters', ({ lens }) => lens.filters],
  ['frame-rate-differs', 'frame rate', ({ rate }) => rate],
  ['sensor-rate-differs', 'sensor rate', ({ sensorRate }) => sensorRate],
  ['shutter-differs', 'shutter', ({ exposure }) => exposure.shutterDeg],
  ['sensitivity-differs', 'EI', ({ exposure }) => exposure.ei],
  ['white-balance-differs', 'white balance', ({ exposure }) => exposure.whiteBalanceK],
  ['raster-differs', 'raster', ({ picture }) => picture.raster],
  ['height-differs', 'camera height', ({ position }) => position.heightM],
  ['tilt-differs', 'tilt', (clip) => clip.position.tiltDeg ?? trackOf(clip, 'tilt')],
  ['roll-differs', 'roll', (clip) => clip.position.rollDeg ?? trackOf(clip, 'rollAngle')],
];

/** Values that could not be compared, because lead or pass does not have them on record. References are not held to any. */
export function notOnRecord(passes: readonly MatchedPasses[]): readonly string[] {
  return COMPARED.filter(([code, , of]) =>
    passes.some(({ lead, pass, role }) => worstFor(role, code) === 'stop' && (of(lead) === undefined || of(pass) === undefined)),
  ).map(([, words]) => words);
}

/** Whether anything at all tells which lens a clip was shot with, and how it was set. */
function saysOfLens(clip: Clip): boolean {
  const { model, serial, focalLengthMm, focusDistanceM, stop } = clip.lens;
  if ([model, serial, focalLengthMm, focusDistanceM, stop].some((fact) => fact !== undefined)) return true;
  return (['focalLength', 'focusDistance', 'stop'] as const).some((field) => trackOf(clip, field) !== undefined);
}

/** Passes whose picture is laid under the lead's to the pixel: a locked-off clean plate is held, a reference stands beside. */
function isJoined({ role, method }: MatchedPasses): boolean {
  return role === 'swapped' || role === 'element' || (role === 'clean' && method.movingCamera);
}

/** A lead or a pass of which nothing says what it was seen through: silence is no agreement. `severity` is the pipeline's `not_on_record`. */
export function checkOnRecord(passes: readonly MatchedPasses[], severity: Severity): readonly Finding[] {
  const joined = passes.filter(isJoined);
  const [first] = joined;
  if (first === undefined) return [];
  const silent = [first.lead, ...joined.map(({ pass }) => pass)].filter((clip) => !saysOfLens(clip));
  if (silent.length === 0) return [];
  return [
    raise({
      code: 'not-on-record',
      severity,
      subject: silent,
      lead: first.lead,
      measured: { value: 'nothing of the lens', unit: '' },
      allowed: { value: 'lens, serial, focal length, focus or stop', unit: '' },
      evidence: silent.map((clip) => `${clip.file}: no file, sidecar, report or log gives lens, serial, focal length, focus or stop`),
    }),
  ];
}
