import type { JudgedSet } from '../../core/checks/judged.ts';
import type { NeededRange } from '../../core/coverage/coverage.ts';
import type { Clip, Role } from '../../core/material/clip.ts';
import { lengthOf, pullRange } from '../../core/timecode/range.ts';
import { framesPerLabel, labelOfFrame } from '../../core/timecode/half-rate.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { formatTimecode, timecodeFormat } from '../../core/timecode/timecode.ts';
import { framesWords, labelAt, NOT_ON_RECORD, rateWords, roleName, secondsWords, shortName, takeWords } from './clip-words.ts';
import { PROPERTIES, SourceList } from './comparison.ts';
import type { Fact, Footer, Paper, Table } from './content.ts';
import { rangeTitle, sortedNeeds } from './coverage-drawing.ts';
import { fingerprint } from './fingerprint.ts';
import { marksTable } from './sheet-contents.ts';
import type { CardSection, CardTemplate } from './template.ts';
import { CARD_HEADINGS } from './template.ts';

/** One page for the crew: which pass is still to be shot and everything it must repeat, to be read at arm's length. */
export interface RepeatCardContent {
  readonly kind: 'repeat-card';
  readonly paper: Paper;
  readonly accent: string;
  readonly title: string;
  readonly show: string;
  /** "27B" */
  readonly name: string;
  readonly beside: string;
  /** "Shoot the swapped pass" */
  readonly order: string;
  /** Who stands where, and which lead to repeat. */
  readonly like: string;
  readonly sections: readonly CardPart[];
  readonly sources: string;
  readonly footer: Footer;
}

/** A part of the card: big facts, or the table of marks. `known` is false for a value nobody stated. */
export interface CardPart {
  readonly heading: string;
  readonly facts: readonly CardFact[];
  readonly table?: Table;
}

/** `mark` is the number of the value's source. */
export interface CardFact extends Fact {
  readonly known: boolean;
  readonly mark?: string;
}

/**
 * The card of a set that still lacks a pass, from the facts of its best lead; undefined when nothing is missing that a lead
 * could tell about. Nothing on it is worked out from habit: what nobody stated is "not on record".
 */
export function repeatCard(judged: JudgedSet, template: CardTemplate, { show }: { readonly show: string }): RepeatCardContent | undefined {
  const lead = bestLead(judged);
  const missing = judged.missingRoles.filter((role) => role !== 'lead');
  if (lead === undefined || missing.length === 0) return undefined;
  const sources = new SourceList();
  const part = (name: CardSection): CardPart => ({ heading: template.headings[name] ?? CARD_HEADINGS[name], ...PARTS[name](judged, lead, sources, missing) });
  const sections = template.sections.map(part).filter(({ facts, table }) => facts.length > 0 || table !== undefined);
  const { set } = judged.matched;
  const body = {
    name: set.slate,
    beside: `${set.camera === '' ? '' : `camera ${set.camera} · `}${set.method.description}`,
    order: `Shoot the ${missing.map(roleName).join(', the ')}`,
    like: `${missing.map((role) => WHO_IS_THERE[role] ?? '').join('')}Repeat exactly the lead pass, ${takeWords(lead)} (${shortName(lead)}).`,
    sections,
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

const WHO_IS_THERE: Readonly<Partial<Record<Role, string>>> = {
  swapped: 'Performer and double trade places. ',
  clean: 'Nobody in frame for the clean plate. ',
};

type Part = Omit<CardPart, 'heading'>;
type PartMaker = (judged: JudgedSet, lead: Clip, sources: SourceList, missing: readonly Role[]) => Part;

const PARTS: Readonly<Record<CardSection, PartMaker>> = {
  length: lengthPart,
  lens: (_judged, lead, sources) => factsOf(lead, ['Lens', 'Lens serial', 'Focal length', 'Focus distance', 'Stop', 'Filters', 'Squeeze'], sources),
  exposure: (_judged, lead, sources) => {
    const { facts } = factsOf(lead, ['EI', 'White balance', 'Tint', 'Shutter'], sources);
    const rate = { label: 'Frame rate', value: rateWords(lead), known: lead.rate !== undefined };
    return { facts: [...facts, rate, ...factsOf(lead, ['Sensor rate', 'Raster'], sources).facts] };
  },
  position: (_judged, lead, sources) => factsOf(lead, ['Camera height', 'Tilt', 'Roll', 'Subject distance', 'Background distance'], sources),
  marks: (judged) => {
    if (judged.marks.length > 0) return { facts: [], table: marksTable(judged.marks) };
    return judged.matched.set.method.movingCamera ? { facts: [{ label: 'Marks', value: NOT_ON_RECORD, known: false }] } : { facts: [] };
  },
  notes: (_judged, lead) => ({ facts: lead.notes.map((note) => ({ label: 'Lead pass', value: note, known: true })) }),
};

function factsOf(lead: Clip, names: readonly string[], sources: SourceList): Part {
  return {
    facts: names.map((name): CardFact => {
      const value = PROPERTIES.find((property) => property.name === name)?.of(lead);
      if (value === undefined) return { label: name, value: NOT_ON_RECORD, known: false };
      return { label: name, value: value.text, known: true, ...(value.source === undefined ? {} : { mark: sources.markOf(value.source, lead) }) };
    }),
  };
}

/** For each range of this lead: cut and handles in frames, seconds and timecode length, and where they lie on the lead. */
function lengthPart(judged: JudgedSet, lead: Clip): Part {
  const needs = sortedNeeds(judged.needed).filter((needed) => needed.lead === lead.id);
  return { facts: needs.flatMap((needed) => [{ label: rangeTitle(needed), value: lengthWords(needed, lead), known: true }, { label: 'On the lead', value: placeWords(needed, lead), known: true }]) };
}

function lengthWords(needed: NeededRange, lead: Clip): string {
  const frames = lengthOf(pullRange(needed.cut, needed.handles));
  if (lead.rate === undefined) return framesWords(frames);
  return `${framesWords(frames)} = ${secondsWords(frames, lead.rate)} = TC ${tcLength(frames, lead, lead.rate)}`;
}

function placeWords({ cut, handles }: NeededRange, lead: Clip): string {
  const pull = pullRange(cut, handles);
  const labels = [labelAt(lead, pull.start), labelAt(lead, pull.end - 1)];
  const place = labels[0] === undefined || labels[1] === undefined ? `frames ${pull.start} to ${pull.end - 1}` : `${labels[0]} to ${labels[1]}, last frame in`;
  return handles.head + handles.tail === 0 ? place : `${place}; handles of ${handles.head} and ${handles.tail} frames are part of it`;
}

/** The length as a label: frames counted from 00:00:00:00 the way the lead counts them. */
function tcLength(frames: number, lead: Clip, rate: FrameRate): string {
  const format = lead.start?.format ?? lead.timecodeFormat ?? timecodeFormat(rate, false);
  return formatTimecode(labelOfFrame({ frame: 0, format }, frames, framesPerLabel(rate, format) ?? 1));
}
