import type { JudgedDay, JudgedSet, Verdict } from '../../core/checks/judged.ts';
import type { Finding, Severity } from '../../core/material/finding.ts';
import { compareText, sortedBy } from '../report/order.ts';
import { measuredWords } from '../report/quantity-words.ts';
import { sortFindings } from '../report/report-finding.ts';
import type { Ink } from './ink.ts';
import { inks } from './ink.ts';
import { visibleText } from './visible-text.ts';
import { displayWidth, pad, wrap } from './wrap.ts';

/** How wide the terminal is, in columns, and whether it shows colour. */
export interface TableOptions {
  readonly width: number;
  readonly colour: boolean;
  /** Everything of every finding: all its sentences, its clips, its evidence. */
  readonly verbose?: boolean;
}

const CAUTION =
  'gemel is no offload tool: never erase a card on its word. It describes plates; it clears nothing for safety.';

/** The day for a terminal: one row a set, worst first; then every finding that stops or warns with its remedy; then what is in no set; then totals. */
export function formatDayTable(day: JudgedDay, options: TableOptions): string {
  const page: Page = { width: Math.max(32, options.width), ink: inks(options.colour), verbose: options.verbose === true };
  const sets = worstFirst(day.sets);
  const blocks = [
    unusedRowsWords(day).flatMap((words) => wrap(words, page.width)),
    setRows(sets, page),
    ...sets.map((set) => findingLines(set.matched.set.id, set.findings, page)),
    findingLines('In no set', day.findings, page),
    unplacedLines(day, page),
    [...wrap(totals(day), page.width), ...wrap(CAUTION, page.width).map(page.ink.faint)],
  ];
  return `${blocks.filter((lines) => lines.length > 0).map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

/** "7 report rows were not used: …", at the top of whatever shows the day; none when all were used. */
export function unusedRowsWords({ unusedRows = 0 }: JudgedDay): readonly string[] {
  if (unusedRows === 0) return [];
  return [`${counted(unusedRows, 'report row')} ${unusedRows === 1 ? 'was' : 'were'} not used: the slate, pass or lens written there is missing here (unused-row, below).`];
}

/** A day with clips of which no set was judged: nobody may take silence for a yes. The last line of all; none when a set was judged. */
export function notJudgedLines({ sets, clips, unplaced, findings }: JudgedDay): readonly string[] {
  if (sets.length > 0) return [];
  const why = findings.some(({ code }) => code === 'unknown-slate') ? 'nobody says to which set-up they belong (unknown-slate)' : 'nothing calls any of them a pass of a plate set';
  return [`NO SET WAS JUDGED: ${counted(clips.length, 'clip')} found, ${unplaced.length} in no set, for ${why}. This is no clearance to strike anything.`];
}

interface Page {
  readonly verbose: boolean;
  readonly width: number;
  readonly ink: Ink;
}

const VERDICT_RANK: Readonly<Record<Verdict, number>> = { no: 0, look: 1, yes: 2 };

/** Sets with the verdict that needs most attention first, then by id. */
export function worstFirst(sets: readonly JudgedSet[]): readonly JudgedSet[] {
  return sets.toSorted((a, b) => VERDICT_RANK[a.verdict] - VERDICT_RANK[b.verdict] || compareText(a.matched.set.id, b.matched.set.id));
}

/** Findings of each severity. */
export function countSeverities(findings: readonly Finding[]): Readonly<Record<Severity, number>> {
  const count = (severity: Severity): number => findings.filter((finding) => finding.severity === severity).length;
  return { stop: count('stop'), warn: count('warn'), note: count('note') };
}

interface Column {
  readonly heading: string;
  readonly right?: boolean;
  /** Left out when the terminal is too narrow for the row. */
  readonly dispensable?: boolean;
  readonly text: (set: JudgedSet) => string;
  readonly ink?: (ink: Ink, set: JudgedSet) => (text: string) => string;
}

const COLUMNS: readonly Column[] = [
  { heading: 'set-up', text: ({ matched }) => visibleText(matched.set.slate) },
  { heading: 'cam', text: ({ matched }) => visibleText(matched.set.camera) },
  { heading: 'method', dispensable: true, text: ({ matched }) => visibleText(matched.set.method.name) },
  { heading: 'strike?', text: ({ verdict }) => verdict.toUpperCase(), ink: (ink, { verdict }) => ({ no: ink.bad, look: ink.doubtful, yes: ink.good })[verdict] },
  countColumn('stop'),
  countColumn('warn'),
  countColumn('note'),
];
const LEAST_REASON_WIDTH = 24;
const GAP = '  ';

function countColumn(severity: Severity): Column {
  return { heading: severity, right: true, text: ({ findings }) => String(countSeverities(findings)[severity] || '·') };
}

function setRows(sets: readonly JudgedSet[], { width, ink }: Page): readonly string[] {
  if (sets.length === 0) return ['No plate set was found.'];
  const columns = fittingColumns(sets, width);
  const factsWidth = columns.reduce((sum, column) => sum + column.width, GAP.length * columns.length);
  const beside = width - factsWidth >= LEAST_REASON_WIDTH;
  const indent = ' '.repeat(beside ? factsWidth : GAP.length);
  const heading = columns.map((column) => pad(column.heading, column.width, column.right)).join(GAP);
  return [
    ink.strong(beside ? `${heading}${GAP}why` : heading),
    ...sets.flatMap((set) => {
      const facts = columns.map((column) => (column.ink?.(ink, set) ?? plain)(pad(column.text(set), column.width, column.right))).join(GAP);
      const reason = wrap(visibleText(set.reason), width - indent.length);
      return beside ? [`${facts}${GAP}${reason[0] ?? ''}`, ...reason.slice(1).map((line) => indent + line)] : [facts, ...reason.map((line) => indent + line)];
    }),
  ];
}

/** Every column as wide as its widest entry; the dispensable ones only where there is room. */
function fittingColumns(sets: readonly JudgedSet[], width: number): readonly (Column & { readonly width: number })[] {
  const columns = COLUMNS.map((column) => ({ ...column, width: Math.max(column.heading.length, ...sets.map((set) => displayWidth(column.text(set)))) }));
  const whole = columns.reduce((sum, column) => sum + column.width + GAP.length, -GAP.length);
  return whole <= width ? columns : columns.filter(({ dispensable }) => dispensable !== true);
}

function plain(text: string): string {
  return text;
}

/** The findings a person must act on, under their set's name: what, one sentence of what follows, what to do. Notes stay in the report and on the sheet. */
function findingLines(title: string, findings: readonly Finding[], { width, ink, verbose }: Page): readonly string[] {
  const told = sortFindings(findings).filter(({ severity }) => severity !== 'note');
  if (told.length === 0) return [];
  const lines = [ink.strong(visibleText(title))];
  for (const finding of told) {
    const mark = finding.severity === 'stop' ? ink.bad('stop') : ink.doubtful('warn');
    const measured = measuredWords(finding);
    const [first, ...rest] = wrap(`${finding.code}${measured === '' ? '' : `: ${visibleText(measured)}`}`, width - 8);
    lines.push(`  ${mark}  ${ink.strong(first ?? '')}`, ...rest.map((line) => `        ${line}`));
    if (verbose && finding.subject.length > 0) lines.push(...indented(visibleText(finding.subject.join(', ')), width).map(ink.faint));
    lines.push(...indented(visibleText(verbose ? finding.consequence : firstSentence(finding.consequence)), width), ...hanging('→ ', visibleText(finding.remedy), width));
    if (verbose) lines.push(...finding.evidence.flatMap((words) => hanging('· ', visibleText(words), width)).map(ink.faint));
  }
  return lines;
}

/** A sentence ends with a stop before a space and a capital: "T2.8" and "0.5 px" do not end one. */
function firstSentence(text: string): string {
  return /^.*?[.!?](?= \p{Lu}|$)/u.exec(text)?.[0] ?? text;
}

function unplacedLines({ unplaced }: JudgedDay, { width, ink }: Page): readonly string[] {
  if (unplaced.length === 0) return [];
  const lines = sortedBy(unplaced, ({ clip }) => clip).flatMap(({ clip, why }) => [
    ...wrap(visibleText(clip), width - 2).map((line) => `  ${line}`),
    ...indented(visibleText(why), width),
  ]);
  return [ink.strong('Clips in no set'), ...lines];
}

function indented(text: string, width: number): readonly string[] {
  return hanging('', text, width);
}

function hanging(mark: string, text: string, width: number): readonly string[] {
  return wrap(text, width - 8 - mark.length).map((line, index) => `        ${index === 0 ? mark : ' '.repeat(mark.length)}${line}`);
}

function totals({ clips, sets, unplaced, findings }: JudgedDay): string {
  const verdicts = (verdict: Verdict): number => sets.filter((set) => set.verdict === verdict).length;
  const counts = countSeverities([...findings, ...sets.flatMap((set) => set.findings)]);
  return [
    `${counted(sets.length, 'set')}: ${verdicts('no')} no, ${verdicts('look')} look, ${verdicts('yes')} yes`,
    `${counted(clips.length, 'clip')}, ${unplaced.length} in no set`,
    `${counts.stop} stop, ${counts.warn} warn, ${counted(counts.note, 'note')}`,
  ].join(' · ');
}

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}
