import type { ClipOptics, OpticsSettings } from '../../core/checks/clip-optics.ts';
import { clipOptics } from '../../core/checks/clip-optics.ts';
import type { JudgedSet } from '../../core/checks/judged.ts';
import type { Clip, Role } from '../../core/material/clip.ts';
import type { CardPart, MissingMeasure, RepeatCardContent } from './card-content.ts';
import { cardFacts } from './card-facts.ts';
import { cardLengths } from './card-length.ts';
import { cardMarks } from './card-marks.ts';
import { roleName, shortName, takeWords } from './clip-words.ts';
import { SourceList } from './comparison.ts';
import { fingerprint } from './fingerprint.ts';
import type { CardSection, CardTemplate } from './template.ts';
import { CARD_HEADINGS } from './template.ts';
import { FINE, READ_TO } from './tolerance-words.ts';
import { numberWords } from './value-words.ts';

/** What a card needs besides the set. Without optics it carries no ± and no depth of field. */
export interface CardOptions {
  readonly show: string;
  readonly optics?: OpticsSettings;
}

/**
 * The card of a set that still lacks a pass, from the facts of its best lead; undefined when nothing is missing that a lead
 * could tell about. Nothing on it is worked out from habit: what nobody stated is listed as a measurement to take.
 */
export function repeatCard(judged: JudgedSet, template: CardTemplate, { show, optics: settings }: CardOptions): RepeatCardContent | undefined {
  const lead = bestLead(judged);
  const missing = judged.missingRoles.filter((role) => role !== 'lead');
  if (lead === undefined || missing.length === 0) return undefined;
  const optics = settings === undefined ? undefined : clipOptics(lead, settings);
  const sources = new SourceList();
  const parts = template.sections.map((name) => partOf(name, { judged, lead, optics, sources, heading: template.headings[name] ?? CARD_HEADINGS[name] }));
  const { set } = judged.matched;
  const body = {
    name: set.slate,
    beside: `${set.camera === '' ? '' : `camera ${set.camera} · `}${set.method.description}`,
    order: `Shoot the ${missing.map(roleName).join(', the ')}`,
    like: `${lookFirstWords(judged)}${missing.map((role) => WHO_IS_THERE[role] ?? '').join('')}Repeat exactly the lead pass, ${takeWords(lead)} (${shortName(lead)}).`,
    sections: parts.map(({ part }) => part).filter(({ facts, marks }) => facts.length > 0 || marks !== undefined),
    missing: parts.flatMap((found) => found.missing),
    within: withinWords(optics, parts.map(({ part }) => part)),
    taken: optics?.assumptions ?? [],
    sources: sources.lines().length === 0 ? '' : `Where from: ${sources.lines().join('  ')}`,
  };
  const revision = fingerprint(JSON.stringify(body));
  return {
    kind: 'repeat-card', paper: template.paper, accent: template.accent, title: template.title, show, ...body,
    footer: { left: `${show === '' ? '' : `${show} · `}${set.id} · revision ${revision}`, caution: template.caution },
  };
}

/** The lead others are laid under: one that counts and is circled, else one that counts, else the first. */
export function bestLead({ matched, countingLeads }: JudgedSet): Clip | undefined {
  const leads = matched.set.clips.filter(({ role, id }) => role === 'lead' || matched.matches.some(({ lead }) => lead === id));
  const rank = ({ id, circled, usable }: Clip): number => (usable ? 0 : 4) + (countingLeads.includes(id) ? 0 : 2) + (circled === true ? 0 : 1);
  return leads.toSorted((a, b) => rank(a) - rank(b))[0];
}

/** A clip of another slate may be what is missing: nobody shoots before somebody has looked. */
function lookFirstWords({ matched: { proposed }, missingRoles }: JudgedSet): string {
  const found = proposed.find(({ role }) => missingRoles.includes(role));
  if (found === undefined) return '';
  return `First look at ${shortName({ file: found.clip })}: if it is the ${roleName(found.role)}, nothing has to be shot; say so in corrections.yaml. `;
}

const WHO_IS_THERE: Readonly<Partial<Record<Role, string>>> = {
  swapped: 'Performer and double trade places. ',
  clean: 'Nobody in frame for the clean plate. ',
};

interface Made {
  readonly part: CardPart;
  readonly missing: readonly MissingMeasure[];
}

interface Making {
  readonly judged: JudgedSet;
  readonly lead: Clip;
  readonly optics: ClipOptics | undefined;
  readonly sources: SourceList;
  readonly heading: string;
}

function partOf(name: CardSection, { judged, lead, optics, sources, heading }: Making): Made {
  switch (name) {
    case 'length': return { part: { heading, facts: cardLengths(judged, lead) }, missing: [] };
    case 'notes': return { part: { heading, facts: lead.notes.map((note) => ({ label: 'Lead pass', value: note })) }, missing: [] };
    case 'marks': {
      const { marks, remark } = cardMarks(judged.marks, lead, optics);
      if (marks.length > 0) return { part: { heading, facts: [], marks, ...(remark === '' ? {} : { remark }) }, missing: [] };
      return { part: { heading, facts: [] }, missing: judged.matched.set.method.movingCamera ? [{ what: 'marks of the move', why: 'nobody can repeat it' }] : [] };
    }
    default: {
      const { facts, missing } = cardFacts(name, lead, optics, sources);
      return { part: { heading, facts }, missing };
    }
  }
}

/** Which limits the ± keep, and what to do where they are finer than a tape shows. */
function withinWords(optics: ClipOptics | undefined, parts: readonly CardPart[]): readonly string[] {
  const { limits, plate } = optics ?? {};
  if (limits === undefined || plate === undefined) return [];
  const px = (value: number): string => `${numberWords(value, 2)} px`;
  const kept = `Each ± by itself keeps the join within ${px(limits.shiftPx)} of shift, ${px(limits.parallaxPx)} of parallax, ${px(limits.blurPx)} of blur and ${numberWords(limits.stops, 2)} stop on ${plate.widthPx} × ${plate.heightPx}. What has no ± is met exactly.`;
  const fine = parts.some(({ facts, remark }) => remark?.includes(FINE) === true || facts.some(({ tolerance }) => tolerance?.endsWith(FINE) === true));
  return fine ? [kept, `${FINE} finer than a tape (${READ_TO.mm} mm) or a level (${READ_TO.degrees}°) shows: line near and far things up with the lead’s picture laid over the monitor.`] : [kept];
}
