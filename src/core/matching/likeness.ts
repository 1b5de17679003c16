import type { Chosen, Clip } from '../material/clip.ts';
import type { CostTerm } from '../material/plate-set.ts';
import type { Tolerances } from '../material/tolerance.ts';
import type { FrameRate } from '../timecode/rate.ts';
import { rateName, sameRate } from '../timecode/rate.ts';

/** What it costs that a pass was shot otherwise than its lead in one thing; more than all that is said of coverage and time. */
export const UNLIKE = 20;

/** What it costs that a pass does not say what its lead says. */
const UNSAID = 0.1;

/** How like the lead a pass was shot: same lens, focal length, frame rate, sensor rate, raster. One term each. */
export function likenessTerms(lead: Clip, pass: Clip, tolerances: Pick<Tolerances, 'focalLengthPercent'>): readonly CostTerm[] {
  return [lensTerm(lead, pass), focalLengthTerm(lead, pass, tolerances), rateTerm(lead, pass), sensorRateTerm(lead, pass), rasterTerm(lead, pass)];
}

// Most passes are like their lead, so those terms are made once.
const SAME = {
  serial: { name: 'lens', cost: 0, words: 'same lens, by its serial' },
  model: { name: 'lens', cost: 0, words: 'same lens, by its name' },
  focalLength: { name: 'focal length', cost: 0, words: 'same focal length' },
  rate: { name: 'frame rate', cost: 0, words: 'same frame rate' },
  sensorRate: { name: 'sensor rate', cost: 0, words: 'same sensor rate' },
  raster: { name: 'raster', cost: 0, words: 'same raster' },
} as const;

/** The serial decides when both are known, since a lens may be written in many ways; names by two different hands prove nothing. */
function lensTerm({ lens: lead }: Clip, { lens: pass }: Clip): CostTerm {
  if (lead.serial !== undefined && pass.serial !== undefined) {
    return sameText(lead.serial, pass.serial) ? SAME.serial : unlike('lens', `serial ${pass.serial.value}`, `serial ${lead.serial.value}`);
  }
  if (lead.model === undefined || pass.model === undefined) return unsaid('lens', lead.model ?? lead.serial);
  if (sameText(lead.model, pass.model)) return SAME.model;
  return lead.model.source.kind === pass.model.source.kind
    ? unlike('lens', pass.model.value, lead.model.value)
    : { name: 'lens', cost: UNSAID, words: `lens written as "${pass.model.value}", as "${lead.model.value}" for the lead: perhaps one lens` };
}

function focalLengthTerm({ lens: lead }: Clip, { lens: pass }: Clip, { focalLengthPercent }: Pick<Tolerances, 'focalLengthPercent'>): CostTerm {
  if (lead.focalLengthMm === undefined || pass.focalLengthMm === undefined) return unsaid('focal length', lead.focalLengthMm);
  const a = lead.focalLengthMm.value;
  const b = pass.focalLengthMm.value;
  return Math.abs(b - a) * 100 <= focalLengthPercent.warn * a ? SAME.focalLength : unlike('focal length', `${b} mm`, `${a} mm`);
}

function rateTerm(lead: Clip, pass: Clip): CostTerm {
  if (lead.rate === undefined || pass.rate === undefined) return unsaid('frame rate', lead.rate);
  return sameRate(lead.rate, pass.rate) ? SAME.rate : unlike('frame rate', `${rateName(pass.rate)} fps`, `${rateName(lead.rate)} fps`);
}

function sensorRateTerm({ sensorRate: lead }: Clip, { sensorRate: pass }: Clip): CostTerm {
  if (lead === undefined || pass === undefined) return unsaid('sensor rate', lead);
  return sameSensorRate(lead, pass) ? SAME.sensorRate : unlike('sensor rate', `${rateName(pass)} fps`, `${rateName(lead)} fps`);
}

/** Menus and logs write "24" for 24 and for 24000/1001 alike (common practice, no source): a thousandth is no difference. */
function sameSensorRate(a: FrameRate, b: FrameRate): boolean {
  return Math.abs(a.num * b.den - b.num * a.den) * 1000 <= a.num * b.den;
}

function rasterTerm({ picture: lead }: Clip, { picture: pass }: Clip): CostTerm {
  if (lead.raster === undefined || pass.raster === undefined) return unsaid('raster', lead.raster);
  const a = lead.raster.value;
  const b = pass.raster.value;
  if (a.width === b.width && a.height === b.height) return SAME.raster;
  return unlike('raster', `${b.width} × ${b.height}`, `${a.width} × ${a.height}`);
}

function unlike(name: string, pass: string, lead: string): CostTerm {
  return { name, cost: UNLIKE, words: `${name} differs: ${pass}, the lead has ${lead}` };
}

/** Silence counts only against a pass whose lead speaks: where the lead is silent no pass can be told from another. */
function unsaid(name: string, ofLead: unknown): CostTerm {
  return ofLead === undefined
    ? { name, cost: 0, words: `${name} of the lead not known` }
    : { name, cost: UNSAID, words: `${name} of this pass not known` };
}

function sameText(a: Chosen<string>, b: Chosen<string>): boolean {
  return a.value === b.value || folded(a.value) === folded(b.value);
}

/** Without case, spaces and punctuation. */
function folded(text: string): string {
  return text.normalize('NFC').toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '');
}
