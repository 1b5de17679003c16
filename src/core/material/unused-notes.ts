import type { ClipId } from './clip.ts';
import type { ClipNote } from './day.ts';
import { textOf } from './clip-index.ts';
import { sameDate } from './dates.ts';
import type { Finding, Severity } from './finding.ts';
import type { Field } from './statement.ts';
import type { UntiedNote } from './tie-by-facts.ts';
import { compareCodeUnits, comparePlaces } from './trust.ts';

/**
 * Findings for notes that found no clip: one for each sidecar, one for all silent rows of a report, and one for each row or sidecar
 * that could mean several clips. `dates` are those of the day's clips: rows of another day are worth no more than a note.
 */
export function unusedNotes(untied: readonly UntiedNote[], dates: readonly string[], idOf: (place: number) => ClipId): readonly Finding[] {
  const sorted = untied.toSorted((a, b) => compareCodeUnits(a.note.file, b.note.file) || comparePlaces(a.note.place, b.note.place));
  const rows = new Map<string, UntiedNote[]>();
  const others = new Map<string, UntiedNote[]>();
  const findings: Finding[] = [];
  for (const one of sorted) {
    if (isAmbiguous(one)) findings.push(ambiguous(one, one.places.map(idOf).sort()));
    else if (!isReportRow(one.note)) findings.push(sidecarAlone(one));
    else listOf(isOfTheDay(one.note, dates) ? rows : others, one.note.file).push(one);
  }
  return [
    ...findings,
    ...[...rows].map(([file, list]) => silentRows(file, list, 'warn')),
    ...[...others].map(([file, list]) => silentRows(file, list, 'note')),
  ];
}

/** How many rows of reports look as if they spoke of a clip of the day, and are used for none. */
export function countUnusedRows(untied: readonly UntiedNote[], dates: readonly string[]): number {
  return untied.filter((one) => isReportRow(one.note) && (isAmbiguous(one) || isOfTheDay(one.note, dates))).length;
}

/** One note a report for the rows that went by their clip number alone. */
export function rollsAssumed(rows: readonly ClipNote[]): readonly Finding[] {
  const files = new Map<string, ClipNote[]>();
  for (const row of rows.toSorted((a, b) => compareCodeUnits(a.file, b.file) || comparePlaces(a.place, b.place))) {
    const list = files.get(row.file);
    if (list === undefined) files.set(row.file, [row]);
    else list.push(row);
  }
  return [...files].map(([file, list]) => ({
    code: 'unreadable-value',
    severity: 'note',
    subject: [],
    measured: { value: 'no roll', unit: '' },
    allowed: { value: 'a roll in each row', unit: '' },
    consequence: `${file} (${linesOf(list)}): no roll is written, so each of these rows is taken for the only clip of its number that is here. This is assumed.`,
    remedy: 'Write the roll into the rows to be sure.',
    evidence: list.map(where),
  }));
}

function isAmbiguous({ places }: UntiedNote): boolean {
  return places.length > 0;
}

/** A row of a table that may list many clips; not a sidecar or an export that goes by its own name. */
function isReportRow({ stem, kind }: ClipNote): boolean {
  return stem === undefined && kind !== 'sidecar';
}

const NAMING: ReadonlySet<Field> = new Set<Field>(['slate', 'scene', 'pass', 'tcIn']);

/** A row that names a clip, a slate or a pass, and no other day. A line of totals names none. */
function isOfTheDay(note: ClipNote, dates: readonly string[]): boolean {
  const date = textOf(note, 'date');
  if (date !== undefined && dates.length > 0 && !dates.some((other) => sameDate(date, other))) return false;
  const numbered = [textOf(note, 'file'), textOf(note, 'clip')].some((name) => name !== undefined && /\d/u.test(name));
  return numbered || note.statements.some(({ field }) => NAMING.has(field));
}

function listOf(rows: Map<string, UntiedNote[]>, file: string): UntiedNote[] {
  const list = rows.get(file) ?? [];
  if (list.length === 0) rows.set(file, list);
  return list;
}

function ambiguous({ note, names }: UntiedNote, subject: readonly ClipId[]): Finding {
  return {
    code: isRow(note) ? 'unused-row' : 'unused-sidecar',
    severity: 'warn',
    subject,
    measured: { value: subject.length, unit: '' },
    allowed: { value: 1, unit: '' },
    consequence: `${where(note)} is used for none: ${names} ${subject.length === 1 ? `is ${subject[0]}, but other rows give that number too` : `could be ${subject.join(' or ')}`}.`,
    remedy: isRow(note) ? 'name the file with its folder, or add camera, roll and clip to the row' : 'put it into the folder of its clip',
    evidence: [`${where(note)}: ${names}`],
  };
}

function sidecarAlone({ note, names }: UntiedNote): Finding {
  return {
    code: 'unused-sidecar',
    severity: 'warn',
    subject: [],
    measured: { value: names, unit: '' },
    allowed: { value: 'a clip of the same base name', unit: '' },
    consequence: `${note.file} lies beside no clip of its name: a clip may be missing, or what it says is lost.`,
    remedy: 'look whether its clip was copied; if it was renamed, rename the sidecar alike in a copy',
    evidence: [where(note)],
  };
}

const NAMED_LINES = 6;

function silentRows(file: string, rows: readonly UntiedNote[], severity: Severity): Finding {
  return {
    code: 'unused-row',
    severity,
    subject: [],
    measured: { value: rows.length, unit: '' },
    allowed: { value: 0, unit: '' },
    consequence: `${file} (${linesOf(rows.map(({ note }) => note))}) names no clip that is here: what is written there is not used.`,
    remedy: 'nothing if these are clips of another day; else add the clips, or correct file, roll and clip, or slate and take',
    evidence: rows.map(({ note, names }) => `${where(note)}: ${names === '' ? 'names no file, clip, slate or timecode' : names}`),
  };
}

/** "lines 2, 3, 4": no more than help in a sentence; all of them stand in the evidence. */
function linesOf(rows: readonly ClipNote[]): string {
  const places = rows.map(({ place }) => place.replace(/^line /u, ''));
  const more = places.length > NAMED_LINES ? ` and ${places.length - NAMED_LINES} more` : '';
  return `${places.length === 1 ? 'line' : 'lines'} ${places.slice(0, NAMED_LINES).join(', ')}${more}`;
}

function isRow({ place }: ClipNote): boolean {
  return place !== '';
}

function where({ file, place }: ClipNote): string {
  return place === '' ? file : `${file}, ${place}`;
}
