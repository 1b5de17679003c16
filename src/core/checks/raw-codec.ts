import type { Clip } from '../material/clip.ts';
import type { Cost, Decision } from './cost.ts';
import type { MatchedPasses } from './passes.ts';
import { atMost } from './severity.ts';

/** Codecs that keep what the sensor saw, before white balance and EI are worked in; names as makers publish them, and whatever says "raw". */
const RAW = /raw|r3d|redcode|x-?ocn|cinema ?dng/i;

/** Whether both passes are on record as raw: white balance and EI are then notes for the development, and not in the picture. */
function areRaw({ lead, pass }: MatchedPasses): boolean {
  return isRaw(lead) && isRaw(pass);
}

function isRaw({ picture, kind }: Clip): boolean {
  return picture.codec === undefined ? kind === 'header-only' : RAW.test(picture.codec.value);
}

/** A difference that raw recordings carry as metadata only: worth a look, never a reason to shoot again; undefined where a pass is not raw. */
export function metadataOnly(passes: MatchedPasses, what: string, byTolerance: Decision): Cost | undefined {
  if (!areRaw(passes)) return undefined;
  const severity = byTolerance.severity === undefined ? undefined : atMost(byTolerance.severity, 'warn');
  return { decided: { ...byTolerance, severity }, words: `Both are raw: ${what} is metadata only there and can be set alike in development.`, evidence: ['both codecs are raw'] };
}
