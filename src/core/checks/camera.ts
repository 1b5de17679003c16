import { sameName, sameSerial } from '../material/agreement.ts';
import type { Finding } from '../material/finding.ts';
import type { Raster } from '../material/statement.ts';
import type { Tolerances } from '../material/tolerance.ts';
import { indexDifference } from '../optics/exposure.ts';
import { figure, isPossible, readAt } from './evidence.ts';
import { lightText } from './light-cost.ts';
import type { SharedNumber } from './number-differs.ts';
import { checkNumber } from './number-differs.ts';
import type { OpticsOfPair } from './pair-optics.ts';
import type { MatchedPasses } from './passes.ts';
import { raiseDifference } from './raise.ts';
import { metadataOnly } from './raw-codec.ts';
import { checkText } from './text-differs.ts';

/** The passes must be recorded alike: raster, sensitivity, white balance, codec, body. */
export function checkCamera(passes: MatchedPasses, tolerances: Tolerances, optics: OpticsOfPair): readonly Finding[] {
  return [
    ...checkRaster(passes),
    ...checkNumber(passes, SENSITIVITY, tolerances.eiStops, optics),
    ...checkNumber(passes, WHITE_BALANCE, tolerances.whiteBalanceK, optics),
    ...checkCodec(passes),
    ...checkBody(passes),
  ];
}

function checkRaster(passes: MatchedPasses): readonly Finding[] {
  const a = passes.lead.picture.raster;
  const b = passes.pass.picture.raster;
  if (a === undefined || b === undefined || ![a.value, b.value].every(isRaster) || (a.value.width === b.value.width && a.value.height === b.value.height)) return [];
  const leadText = rasterText(a.value);
  const passText = rasterText(b.value);
  return raiseDifference(passes, 'raster-differs', {
    severity: 'stop',
    measured: { value: passText, unit: 'px' },
    allowed: { value: leadText, unit: 'px' },
    what: 'raster',
    leadText: `${leadText} px`,
    passText: `${passText} px`,
    evidence: [readAt(passes.lead, 'raster', a), readAt(passes.pass, 'raster', b)],
  });
}

function isRaster({ width, height }: Raster): boolean {
  return isPossible(width) && isPossible(height);
}

function rasterText({ width, height }: Raster): string {
  return `${width} × ${height}`;
}

const SENSITIVITY: SharedNumber = {
  code: 'sensitivity-differs',
  what: 'EI',
  start: ({ exposure }) => exposure.ei,
  apart: (lead, pass) => (isPossible(lead) && isPossible(pass) ? Math.abs(indexDifference(lead, pass)) : Number.NaN),
  unit: 'stops',
  decimals: 3,
  text: (ei) => `${figure(ei, 0)}`,
  by: (lead, pass, stops) => `${figure(stops, 2)} stop ${pass > lead ? 'brighter, with more noise' : 'darker, with less noise'}`,
  // Noise is not made up for by light, so the EI is judged by itself.
  cost: (optics, _apart, byTolerance) => {
    const light = lightText(optics);
    const raw = metadataOnly(optics.passes, 'EI', byTolerance);
    return raw === undefined ? { words: light, evidence: [] } : { ...raw, words: `${raw.words} ${light}`.trim() };
  },
};

const WHITE_BALANCE: SharedNumber = {
  code: 'white-balance-differs',
  what: 'white balance',
  start: ({ exposure }) => exposure.whiteBalanceK,
  apart: (lead, pass) => (isPossible(lead) && isPossible(pass) ? Math.abs(pass - lead) : Number.NaN),
  unit: 'K',
  decimals: 1,
  text: (kelvin) => `${figure(kelvin, 0)} K`,
  // A camera set to more kelvin takes the light for bluer than it is, and renders it warmer.
  by: (lead, pass) => (pass > lead ? 'rendered warmer' : 'rendered cooler'),
  cost: (optics, _apart, byTolerance) => metadataOnly(optics.passes, 'white balance', byTolerance) ?? { words: '', evidence: [] },
};

/** A sequence made from a movie is another codec of necessity: worth a note, not a look. */
function checkCodec(passes: MatchedPasses): readonly Finding[] {
  const severity = passes.lead.kind === passes.pass.kind ? 'warn' : 'note';
  return checkText(passes, { code: 'codec-differs', what: 'codec', severity, of: ({ picture }) => picture.codec, same: sameCodec });
}

/** Names of codecs differ in case, spaces and punctuation, but "422" and "422 HQ" are two. */
function sameCodec(a: string, b: string): boolean {
  const bare = (text: string): string => text.normalize('NFKC').toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '');
  return bare(a) === bare(b);
}

/** The serial decides when both are known; else the model does. */
function checkBody(passes: MatchedPasses): readonly Finding[] {
  const bySerial = passes.lead.picture.cameraSerial !== undefined && passes.pass.picture.cameraSerial !== undefined;
  return checkText(passes, {
    code: 'camera-differs',
    what: bySerial ? 'camera serial' : 'camera',
    severity: 'warn',
    of: ({ picture }) => (bySerial ? picture.cameraSerial : picture.cameraModel),
    same: bySerial ? sameSerial : sameName,
  });
}
