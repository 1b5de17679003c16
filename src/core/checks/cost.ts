import type { Quantity, Severity } from '../material/finding.ts';
import type { PlacePx } from '../optics/plate.ts';
import type { NoCost } from '../optics/difference-cost.ts';
import type { Refusal } from '../optics/impossible.ts';
import { figure } from './evidence.ts';
import type { PairOptics } from './pair-optics.ts';

/**
 * What a difference costs, and whether that decides. Without `decided` the tolerance in the value's own unit does: the optics could not tell, and `evidence`
 * says why.
 */
export interface Cost {
  readonly decided?: Decision;
  /** Sentences for the consequence; "" when there is nothing to say. */
  readonly words: string;
  /** Where in the frame it shows most: "worst in the corners"; absent when nobody can tell. */
  readonly worst?: string;
  readonly evidence: readonly string[];
}

/** `severity` is undefined when the cost lies within the limit. */
export interface Decision {
  readonly severity: Severity | undefined;
  readonly measured: Quantity;
  readonly allowed: Quantity;
}

/** The cost when the optics cannot tell: the reason, and which tolerance stands in. */
export function untold(why: string, instead: string): Cost {
  return { words: '', evidence: [`px not known: ${why}; ${instead} decides`] };
}

/** Why there is no cost, in words. */
export function whyNoCost(none: NoCost): string {
  return none.kind === 'refused' ? none.refusals.map(refusalText).join(', ') : `${none.missing.map(ofLead).join(', ')} not on record`;
}

/** "tilt must be an angle, found 409.5". */
export function refusalText({ what, found, expected }: Refusal): string {
  return `${what} must be ${expected}, found ${found.replace('NaN', 'no number').replace('Infinity', 'infinity')}`;
}

/** Words of the optics, which know passes only as the first and the second. */
function ofLead(words: string): string {
  return words.replace('of the first pass', 'of the lead').replace('of the second pass', 'of the pass');
}

/** Assumptions as evidence shows them. */
export function assumed(assumptions: readonly string[]): readonly string[] {
  return [...new Set(assumptions)].map((words) => `assumed: ${words}`);
}

/** Headings of a report under which a missing measurement belongs. */
const HEADINGS: Readonly<Record<string, string>> = { 'subject distance': 'subject_distance', 'background distance': 'background_distance' };

/** What would have to be on record to say more: "write subject_distance into the report". "" when nothing is missing. */
export function toMeasure(missing: readonly string[]): string {
  const headings = missing.flatMap((what) => HEADINGS[what] ?? []);
  return headings.length === 0 ? '' : `write ${headings.join(' and ')} into the report`;
}

/** px as people read them: a decimal under 10, whole ones above. */
export function pxText(px: number): string {
  return `${pxFigure(px)} px`;
}

function pxFigure(px: number): number {
  return figure(px, px < 9.95 ? 1 : 0);
}

/** "10 px in the middle, 11 px at the edge and 12 px in the corner of a 4096 px plate"; places that do not move are left out. */
export function placesText({ centrePx, edgePx, cornerPx }: PlacePx, optics: PairOptics): string {
  const places = [[centrePx, 'in the middle'], [edgePx, 'at the edge'], [cornerPx, 'in the corner']] as const;
  const said = places.filter(([px]) => px >= 0.05).map(([px, where]) => `${pxText(px)} ${where}`);
  return `${said.length < 2 ? said.join('') : `${said.slice(0, -1).join(', ')} and ${said.at(-1) ?? ''}`} of ${plateText(optics)}`;
}

/** Where in the frame it shows most. */
export function worstPlace({ centrePx, edgePx, cornerPx, worstPx }: PlacePx): string {
  if (centrePx > 0.9 * worstPx) return 'as much all over the frame';
  if (cornerPx > 1.05 * edgePx) return 'worst in the corners';
  return edgePx > 1.05 * cornerPx ? 'worst at the left and right edge' : 'worst at the edges';
}

/** "a 4096 px plate". */
export function plateText({ plate }: PairOptics): string {
  return `a ${plate?.plate.widthPx ?? 0} px plate`;
}

/** Stops as people read them, signed, to a hundredth: "−1.06 stop". */
export function stopsText(stops: number): string {
  const rounded = figure(stops, 2);
  return `${rounded > 0 ? '+' : rounded < 0 ? '−' : ''}${Math.abs(rounded)} stop`;
}

/** A decision by px. */
export function byPx(severity: Severity | undefined, px: number, warnPx: number): Decision {
  return { severity, measured: { value: figure(px, 2), unit: 'px' }, allowed: { value: figure(warnPx, 2), unit: 'px' } };
}

/** A decision by stops. */
export function byStops(severity: Severity | undefined, stops: number, warnStops: number): Decision {
  return { severity, measured: { value: figure(Math.abs(stops), 3), unit: 'stops' }, allowed: { value: warnStops, unit: 'stops' } };
}
