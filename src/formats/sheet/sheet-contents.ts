import type { JudgedSet } from '../../core/checks/judged.ts';
import type { Clip } from '../../core/material/clip.ts';
import type { LeadMatch } from '../../core/material/plate-set.ts';
import type { MoveMark } from '../../core/material/shot-list.ts';
import { measuredWords } from '../report/quantity-words.ts';
import { sortedBy } from '../report/order.ts';
import { sortFindings } from '../report/report-finding.ts';
import { correctionWords } from '../report/report-set.ts';
import { roleName, shortName } from './clip-words.ts';
import { comparisonTable, notOnRecord, SourceList } from './comparison.ts';
import type { Block, Fact, FindingWords, Section, SheetContent, SheetHeading } from './content.ts';
import { coverageDrawing, shownNeeds } from './coverage-drawing.ts';
import { alongBlocks } from './along.ts';
import { fingerprint } from './fingerprint.ts';
import { shotBlocks } from './shot-section.ts';
import { pictureStudyBlocks } from './picture-study.ts';
import { platesTable, pullTable, syncTable } from './plates.ts';
import { partnersOf, stillGroups } from './stills.ts';
import type { SheetSection, SheetTemplate } from './template.ts';
import { SHEET_HEADINGS } from './template.ts';
import { metresWords, numberWords } from './value-words.ts';

/** What stands on every sheet of a day but in no set. */
export interface SheetContext {
  readonly show: string;
  /** The shot whose sheet it is; a sheet of the whole set without one. */
  readonly shot?: string;
  /** Number of the first frame of a shot, its head handle included; 1001 without one. */
  readonly firstFrame?: number;
}

/** A set's sheet in words and geometry, by the template. The same set gives the same contents, whatever the order it was read in. */
export function sheetContents(judged: JudgedSet, template: SheetTemplate, context: SheetContext): SheetContent {
  const { show, shot } = context;
  const { set } = judged.matched;
  const sections = template.sections
    .map((name): Section => ({ heading: template.headings[name] ?? SHEET_HEADINGS[name], blocks: BLOCKS[name](judged, template, context) }))
    .filter(({ blocks }) => blocks.length > 0);
  const heading = headingOf(judged, template, context);
  const revision = fingerprint(JSON.stringify([heading, sections]));
  return {
    kind: 'sheet',
    paper: template.paper,
    accent: template.accent,
    heading: { ...heading, facts: [...heading.facts, { label: 'Revision', value: revision }] },
    sections,
    footer: { left: `${show === '' ? '' : `${show} · `}${shot === undefined ? '' : `${shot} · `}${set.id} · revision ${revision}`, caution: template.caution },
  };
}

function headingOf(judged: JudgedSet, template: SheetTemplate, { show, shot }: SheetContext): SheetHeading {
  const { set } = judged.matched;
  const listed = (values: readonly (string | undefined)[]): string => [...new Set(values.filter((value) => value !== undefined))].toSorted().join(', ');
  const facts: readonly Fact[] = [
    { label: 'Method', value: `${set.method.name}: ${set.method.description} (${set.methodFrom})` },
    { label: 'Shots', value: shot === undefined ? listed(judged.shots.map((row) => row.shot)) : '' },
    { label: 'Vendor', value: listed(judged.shots.map(({ vendor }) => vendor)) },
    { label: 'Shot on', value: listed(set.clips.map(({ date }) => date)) },
  ];
  return {
    title: template.title,
    show,
    name: shot ?? set.slate,
    beside: [shot === undefined ? '' : set.slate, set.camera === '' ? '' : `camera ${set.camera}`].filter((part) => part !== '').join(' · '),
    facts: facts.filter(({ value }) => value !== ''),
    verdict: { verdict: judged.verdict, question: template.question, answer: template.answers[judged.verdict], reason: judged.reason },
  };
}

const BLOCKS: Readonly<Record<SheetSection, (judged: JudgedSet, template: SheetTemplate, context: SheetContext) => readonly Block[]>> = {
  summary: summaryBlocks,
  findings: ({ findings, matched }) => (findings.length === 0 ? [{ kind: 'text', text: 'None.', tone: 'faint' }] : [{ kind: 'findings', findings: findingWords(findings, matched.set.clips) }]),
  shot: (judged, _template, { firstFrame = 1001 }) => shotBlocks(judged, firstFrame),
  coverage: (judged) =>
    shownNeeds(judged).flatMap((needed): readonly Block[] => [{ kind: 'coverage', drawing: coverageDrawing(judged, needed) }, pullTable(judged, needed)]),
  plates: (judged) => [
    { kind: 'table', ...platesTable(judged) },
    { kind: 'text', tone: 'faint', text: 'TC out is the last frame and is in. Numbers are frames counted from the clip’s first, which is 0; for image sequences, the numbers in the file names.' },
  ],
  pictures: pictureBlocks,
  measured: pictureStudyBlocks,
  comparison: comparisonBlocks,
  along: alongBlocks,
  marks: ({ marks }) => (marks.length === 0 ? [] : [{ kind: 'table', ...marksTable(marks) }]),
  corrections: ({ correctionsUsed }) => (correctionsUsed.length === 0 ? [] : [correctionsTable(correctionsUsed)]),
  notes: notesBlocks,
  'sign-off': (_judged, { signatures, signatureFields }) => [{ kind: 'sign-off', signatures, fields: signatureFields }],
};

function summaryBlocks(judged: JudgedSet): readonly Block[] {
  const leads = leadsShown(judged);
  if (leads.length === 0) return [{ kind: 'text', text: 'There is no lead pass to lay the others under.' }];
  const missing = judged.missingRoles.map(roleName).join(', ');
  return [
    ...leads.map((match): Block => ({ kind: 'table', ...syncTable(judged, match) })),
    ...(missing === '' ? [] : [{ kind: 'text', tone: 'strong', text: `Still to be shot for this method: ${missing}.` } as const]),
    ...otherTakes(judged),
  ];
}

/** The matches a set is judged by, in the order of their leads; all of them when none is marked out. */
function leadsShown({ matched, countingLeads }: JudgedSet): readonly LeadMatch[] {
  const counting = matched.matches.filter(({ lead }) => countingLeads.includes(lead));
  return sortedBy(counting.length > 0 ? counting : matched.matches, ({ lead }) => lead);
}

function otherTakes(judged: JudgedSet): readonly Block[] {
  const shown = leadsShown(judged).length;
  const others = judged.matched.matches.length - shown;
  const text = [
    others > 0 ? `${others} further lead ${others === 1 ? 'take is' : 'takes are'} matched too, but the set is not judged by ${others === 1 ? 'it' : 'them'}.` : '',
    ...judged.matched.proposed.map(({ lead, clip, role, why }) => `Proposed, not taken: ${clip} as ${roleName(role)} of ${lead} (${why}).`),
    ...judged.matched.leftOver.map(({ clip, why }) => `Beside no lead: ${clip} (${why}).`),
  ].filter((line) => line !== '');
  return text.toSorted().map((line) => ({ kind: 'text', text: line, tone: 'faint' }));
}

/** Findings as a sheet tells them, worst first, clips by their short names. */
export function findingWords(findings: JudgedSet['findings'], clips: readonly Clip[]): readonly FindingWords[] {
  const nameOf = (id: string): string => {
    const clip = clips.find((candidate) => candidate.id === id);
    return clip === undefined ? id : shortName(clip);
  };
  return sortFindings(findings).map((finding) => ({
    severity: finding.severity,
    code: finding.code,
    measured: measuredWords(finding),
    clips: finding.subject.toSorted().map(nameOf).join(', '),
    consequence: finding.consequence,
    remedy: finding.remedy,
    evidence: finding.evidence.join('; '),
  }));
}

function pictureBlocks(judged: JudgedSet): readonly Block[] {
  return stillGroups(judged).map(({ caption, rows }) => ({ kind: 'pictures', caption, rows }));
}

const COMPARED_AT_ONCE = 3;

/** The lead and the passes that go over it; as many tables as it takes, the lead first in each. */
function comparisonBlocks(judged: JudgedSet): readonly Block[] {
  const sources = new SourceList();
  const compared = leadsShown(judged).map((match) => partnersOf(judged.matched.set.clips, match).filter(({ role }) => role !== 'reference'));
  const tables = compared.flatMap(([lead, ...passes]): readonly Block[] => {
    if (lead === undefined) return [];
    const groups = Math.max(1, Math.ceil(passes.length / COMPARED_AT_ONCE));
    return Array.from({ length: groups }, (_, group) => ({
      kind: 'table', ...comparisonTable([lead, ...passes.slice(group * COMPARED_AT_ONCE, (group + 1) * COMPARED_AT_ONCE)], sources),
    }));
  });
  if (tables.length === 0) return [];
  const unknown = notOnRecord(compared.flat());
  const lines = [
    unknown.length === 0 ? '' : `Not on record for any of these passes: ${unknown.join(', ')}.`,
    sources.lines().length === 0 ? '' : `Where from: ${sources.lines().join('  ')}`,
  ].filter((line) => line !== '');
  return [...tables, ...lines.map((text): Block => ({ kind: 'text', tone: 'faint', text }))];
}

/** Marks of the move as the crew noted them, in time order. */
export function marksTable(marks: readonly MoveMark[]): Omit<Extract<Block, { kind: 'table' }>, 'kind'> {
  const number = (value: number | undefined, unit: string): string => (value === undefined ? '' : `${numberWords(value, 3)}${unit}`);
  const rows = sortedBy(marks, ({ take, pass, timeS, tc, mark, from }) => JSON.stringify([take ?? 0, pass, (timeS ?? 0) + 1e6, tc ?? '', mark, from]));
  return {
    columns: [
      { heading: 'Mark', share: 1.3 }, { heading: 'Pass', share: 0.8 }, { heading: 'TC', share: 1 }, { heading: 'Time', share: 0.55, align: 'right' }, { heading: 'x, y, z', share: 1.25 },
      { heading: 'Pan, tilt, roll', share: 1.3 }, { heading: 'Focal length, focus', share: 1.4 }, { heading: 'Notes', share: 1.4 },
    ],
    rows: rows.map((mark) => [
      { text: mark.mark, tone: 'strong' },
      { text: `${mark.pass}${mark.take === undefined ? '' : ` ${mark.take}`}` },
      { text: mark.tc ?? '' },
      { text: number(mark.timeS, ' s') },
      { text: triple([number(mark.x, ''), number(mark.y, ''), number(mark.z, '')], ' m') },
      { text: triple([number(mark.pan, '°'), number(mark.tilt, '°'), number(mark.roll, '°')], '') },
      { text: [number(mark.focalLengthMm, ' mm'), mark.focusDistanceM === undefined ? '' : metresWords(mark.focusDistanceM)].filter((part) => part !== '').join(', ') },
      { text: mark.notes ?? '' },
    ]),
  };
}

function triple(parts: readonly string[], unit: string): string {
  return parts.every((part) => part === '') ? '' : `${parts.map((part) => (part === '' ? '·' : part)).join(', ')}${unit}`;
}

function correctionsTable(corrections: JudgedSet['correctionsUsed']): Block {
  return {
    kind: 'table',
    columns: [{ heading: 'What', share: 2.4 }, { heading: 'Who', share: 1 }, { heading: 'Why', share: 1.8 }, { heading: 'From', share: 1.2 }],
    rows: sortedBy(corrections, ({ id }) => id).map((correction) => [
      { text: correctionWords(correction).replace(/(?<![^ ])[^ ]+\//g, ''), tone: 'strong', note: correction.id },
      { text: correction.who },
      { text: correction.why },
      { text: correction.from },
    ]),
  };
}

function notesBlocks(judged: JudgedSet): readonly Block[] {
  const ofShots = judged.shots.flatMap(({ shot, description, notes }) => [description, notes].flatMap((text) => (text === undefined ? [] : [{ label: shot, value: text }])));
  const ofClips = judged.matched.set.clips.flatMap((clip) => clip.notes.map((note) => ({ label: shortName(clip), value: note })));
  const facts = [...sortedBy(ofShots, ({ label }) => label), ...ofClips];
  return facts.length === 0 ? [] : [{ kind: 'facts', facts }];
}
