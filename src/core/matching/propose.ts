import type { Clip, Role } from '../material/clip.ts';
import type { ProposedMatch } from '../material/plate-set.ts';
import type { Tolerances } from '../material/tolerance.ts';
import { assign } from './assignment.ts';
import { likenessTerms, UNLIKE } from './likeness.ts';
import type { DayPlace, NearPlace } from './nearby.ts';
import { nearbyFinder, placesApart, shareOfNear } from './nearby.ts';
import type { PairCorrections } from './pair-corrections.ts';
import { passName, roleText } from './pass-name.ts';
import type { RecordedApart } from './recording-text.ts';
import { passedText } from './recording-text.ts';
import { compareText, groupBy } from './sorted.ts';

/** A lead that has no pass of a role its method asks for. */
export interface WantingLead extends DayPlace {
  readonly setId: string;
  readonly role: Role;
}

/** A pass that stands beside no lead, and the leads of its own set, usable or not: it belongs elsewhere only if recorded nearer there. */
export interface SparePass extends DayPlace {
  readonly setId: string | undefined;
  readonly ownLeads: readonly DayPlace[];
}

export interface ProposalRules {
  readonly corrections: Pick<PairCorrections, 'forbidden'>;
  readonly tolerances: Pick<Tolerances, 'focalLengthPercent'>;
}

/** Costs of proposals are whole numbers, so that ties are ties. Above the price nothing is proposed. */
const PRICE = 20_000;
/** What is not known of the two must be made up by nearness, which alone costs up to the price. */
const UNKNOWN = 4_000;
/** For one lead no more than these are weighed: the nearest that fit. */
const WEIGHED = 16;

/**
 * Leads without a partner against passes left over, across all set-ups of the day, as one cheapest assignment. A pass fits only
 * on the same camera, in the same role, at the same rate, with nothing known against lens, focal length and raster, and near by.
 */
export function proposeMatches(leads: readonly WantingLead[], spares: readonly SparePass[], rules: ProposalRules): readonly ProposedMatch[] {
  const rows = leads.toSorted((a, b) => compareText(a.clip.id, b.clip.id) || compareText(a.role, b.role));
  const columns = spares.toSorted((a, b) => compareText(a.clip.id, b.clip.id));
  const columnOf = new Map(columns.map(({ clip }, column) => [clip.id, column]));
  const finders = new Map([...groupBy(columns, ({ clip }) => bucket(clip, clip.role))].map(([key, places]) => [key, nearbyFinder(places)]));
  const fits = rows.map((lead) => fitsFor(lead, finders.get(bucket(lead.clip, lead.role))?.(lead) ?? [], rules));
  const pairs = fits.flatMap((list, row) => list.map(({ spare, cost }) => ({ row, column: columnOf.get(spare.clip.id) ?? 0, cost })));
  const answer = assign({ rows: rows.length, columns: columns.length, pairs, unmatchedPrice: PRICE });
  return rows.flatMap((lead, row) => {
    const fit = fits[row]?.find(({ spare }) => spare === columns[answer[row] ?? -1]);
    return fit === undefined ? [] : [{ lead: lead.clip.id, clip: fit.spare.clip.id, role: lead.role, why: whyText(lead, fit) }];
  });
}

interface Fit {
  readonly spare: SparePass;
  readonly apart: RecordedApart;
  readonly cost: number;
  readonly words: readonly string[];
}

function bucket({ camera = '' }: Clip, role: Role): string {
  return `${camera} ${role}`;
}

function fitsFor(lead: WantingLead, near: readonly NearPlace<SparePass>[], rules: ProposalRules): readonly Fit[] {
  const fits: Fit[] = [];
  for (const { place, apart } of near) {
    const fit = fitOf(lead, place, apart, rules);
    if (fit !== undefined) fits.push(fit);
    if (fits.length === WEIGHED) break;
  }
  return fits;
}

function fitOf(lead: WantingLead, spare: SparePass, apart: RecordedApart, { corrections, tolerances }: ProposalRules): Fit | undefined {
  if (spare.setId === lead.setId || corrections.forbidden(lead.clip.id, spare.clip.id) !== undefined) return undefined;
  if (lead.clip.rate === undefined || spare.clip.rate === undefined || !nearerThanOwn(spare, apart)) return undefined;
  const terms = likenessTerms(lead.clip, spare.clip, tolerances);
  if (terms.some(({ cost }) => cost >= UNLIKE)) return undefined;
  const cost = Math.round(PRICE * shareOfNear(apart)) + UNKNOWN * unknowns(lead.clip, spare.clip);
  return cost > PRICE ? undefined : { spare, apart, cost, words: terms.map(({ words }) => words) };
}

/** Only distances of one kind can be compared; where they cannot, the pass stays with its own set. */
function nearerThanOwn(spare: SparePass, apart: RecordedApart): boolean {
  return spare.ownLeads.every((own) => {
    const fromOwn = placesApart(own, spare);
    return fromOwn !== undefined && 'seconds' in fromOwn === 'seconds' in apart && shareOfNear(fromOwn) > shareOfNear(apart);
  });
}

function unknowns(lead: Clip, pass: Clip): number {
  const lens = (lead.lens.serial && pass.lens.serial) ?? (lead.lens.model && pass.lens.model);
  return [lens, lead.lens.focalLengthMm && pass.lens.focalLengthMm, lead.picture.raster && pass.picture.raster].filter((known) => known === undefined).length;
}

function whyText(lead: WantingLead, { spare, apart, words }: Fit): string {
  return (
    `${passName(lead.clip)} has no ${roleText(lead.role)}, and ${passName(spare.clip)} ${whySpare(spare)}: ` +
    `recorded ${passedText(apart)} apart on camera ${lead.clip.camera ?? '?'}; ${words.join(', ')}`
  );
}

function whySpare({ clip, ownLeads }: SparePass): string {
  if (clip.slate === undefined) return 'has no slate';
  return ownLeads.length === 0 ? 'has no lead in its own set-up' : 'was recorded nearer to it than to the leads of its own set-up';
}
