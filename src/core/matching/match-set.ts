import { neededRanges } from '../coverage/needed-ranges.ts';
import type { Clip, Role } from '../material/clip.ts';
import type { LeadMatch, PlateSet } from '../material/plate-set.ts';
import type { ShotRow } from '../material/shot-list.ts';
import type { Candidate } from './choose.ts';
import { asMatch, choosePass, compareCandidates } from './choose.ts';
import type { CostKnowledge } from './cost.ts';
import { costOf } from './cost.ts';
import type { CoverageNeed } from './coverage-term.ts';
import { coverageTerm } from './coverage-term.ts';
import { isUnnamedPartner } from './effective-roles.ts';
import { leadsBetween } from './leads-between.ts';
import type { MatchRules } from './match-rules.ts';
import type { PairCorrections } from './pair-corrections.ts';
import { correctionText } from './pair-corrections.ts';
import type { Recording } from './recording.ts';
import { recordingOf } from './recording.ts';
import { groupBy } from './sorted.ts';
import type { SyncKnowledge } from './sync.ts';
import { syncPasses } from './sync.ts';

/** What matching knows of the whole day. */
export interface DayKnowledge extends Omit<SyncKnowledge, 'method' | 'corrections'> {
  readonly rules: MatchRules;
  readonly corrections: PairCorrections;
  readonly roleOf: (clip: Clip) => Role;
  /** Clips that a person tied to this lead, of whichever set. */
  readonly confirmedFor: (lead: Clip) => readonly Clip[];
  readonly shotsOf: (lead: Clip) => readonly ShotRow[];
}

/** The matches of one set, and what was found out on the way. */
export interface SetMatches {
  readonly leads: readonly Clip[];
  readonly recording: Recording;
  /** One for each usable lead take, in recording order. */
  readonly matches: readonly LeadMatch[];
}

/** Gives every lead take of a set its cheapest swapped pass and clean plate, each on its own, and all its elements and references. */
export function matchSet(set: PlateSet, day: DayKnowledge): SetMatches {
  const recording = recordingOf(set.clips);
  const leads = recording.order.filter((clip) => day.roleOf(clip) === 'lead');
  const byRole = groupBy(recording.order, day.roleOf);
  const known: CostKnowledge = { recording, leadBetween: leadsBetween(recording, leads), tolerances: day.rules.tolerances };
  const matches = leads.map((lead) => {
    const price = pricer(lead, leads, set, known, day);
    const lent = day.confirmedFor(lead).filter((clip) => clip.usable && !recording.placeOf.has(clip.id));
    const candidates = (role: Role): readonly Candidate[] =>
      [...(byRole.get(role) ?? []), ...lent.filter((clip) => day.roleOf(clip) === role)]
        .filter((clip) => day.corrections.forbidden(lead.id, clip.id) === undefined)
        .map((clip) => price(clip, role));
    return matchLead(lead, candidates, day.rules.ambiguityMargin);
  });
  return { leads, recording, matches };
}

function matchLead(lead: Clip, candidates: (role: Role) => readonly Candidate[], ambiguityMargin: number): LeadMatch {
  const swapped = choosePass(candidates('swapped'), ambiguityMargin);
  const clean = choosePass(candidates('clean'), ambiguityMargin);
  return {
    lead: lead.id,
    ...(swapped === undefined ? {} : { swapped }),
    ...(clean === undefined ? {} : { clean }),
    elements: wantedElements(lead, candidates('element')).toSorted(compareCandidates).map(asMatch),
    references: candidates('reference').toSorted(compareCandidates).map(asMatch),
  };
}

/** A shot may need several elements, so all are kept, but those slated for another take, and uncircled ones beside circled ones. */
export function wantedElements(lead: Clip, elements: readonly Candidate[]): readonly Candidate[] {
  const forThis = elements.filter(({ clip, confirmed }) => confirmed || clip.forSlate?.take === undefined || clip.forSlate.take === lead.slate?.take);
  const circled = forThis.filter(({ clip, confirmed }) => confirmed || clip.circled === true);
  return circled.length > 0 ? circled : forThis;
}

function pricer(lead: Clip, leads: readonly Clip[], set: PlateSet, known: CostKnowledge, day: DayKnowledge): (clip: Clip, role: Role) => Candidate {
  const { rules, corrections } = day;
  const others = leads.filter((other) => other !== lead);
  const { ranges } = neededRanges(lead, day.shotsOf(lead), rules.handles, others);
  const need: CoverageNeed = { needed: ranges, method: set.method, minCleanFrames: rules.minCleanFrames };
  return (clip, role) => {
    const pair = { lead, clip, role };
    const sync = syncPasses(pair, { method: set.method, corrections, evidenceFor: day.evidenceFor, marksOf: day.marksOf });
    const inCut = day.evidenceFor(lead.id, clip.id).some(({ kind }) => kind === 'cut');
    const { cost, terms } = costOf(pair, coverageTerm(pair, sync, need), known, inCut);
    const correction = corrections.confirmed(lead.id, clip.id);
    if (correction === undefined) return { clip, role, sync, cost, terms, confirmed: false };
    const taken = correction.role === undefined && isUnnamedPartner(clip.role) ? '; taken for the swapped pass, since nothing names it' : '';
    const confirmation = { name: 'correction', cost: 0, words: `confirmed by hand ${correctionText(correction)}${taken}` };
    return { clip, role, sync, cost, terms: [confirmation, ...terms], confirmed: true };
  };
}
