import type { Clip } from '../material/clip.ts';
import { trackOf } from './along-take.ts';
import type { MatchedPasses } from './passes.ts';
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
