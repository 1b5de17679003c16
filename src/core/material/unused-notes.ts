import type { ClipId } from './clip.ts';
import type { ClipNote } from './day.ts';
import type { Finding } from './finding.ts';
import type { UntiedNote } from './tie-by-facts.ts';
import { compareCodeUnits, comparePlaces } from './trust.ts';

/**
 * Findings for notes that found no clip: one for each sidecar, one for all silent rows of a report (a report may well list clips of
 * other days), and one for each row or sidecar that could mean several clips. `usedFiles` are those with at least one used row.
 */
export function unusedNotes(untied: readonly UntiedNote[], usedFiles: ReadonlySet<string>, idOf: (place: number) => ClipId): readonly Finding[] {
  const sorted = untied.toSorted((a, b) => compareCodeUnits(a.note.file, b.note.file) || comparePlaces(a.note.place, b.note.place));
  const rows = new Map<string, UntiedNote[]>();
  const findings: Finding[] = [];
  for (const one of sorted) {
    if (one.places.length > 1) findings.push(ambiguous(one, one.places.map(idOf).sort()));
    else if (one.note.stem !== undefined || one.note.kind === 'sidecar') findings.push(sidecarAlone(one));
    else listOf(rows, one.note.file).push(one);
  }
  return [...findings, ...[...rows].map(([file, list]) => silentRows(file, list, usedFiles.has(file)))];
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
    consequence: `${where(note)} is used for none: ${names} could be ${subject.join(' or ')}.`,
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

/** More lines than these help nobody in a sentence; all of them stand in the evidence. */
const NAMED_LINES = 6;

function silentRows(file: string, rows: readonly UntiedNote[], used: boolean): Finding {
  const places = rows.map(({ note }) => note.place.replace(/^line /u, ''));
  const more = places.length > NAMED_LINES ? ` and ${places.length - NAMED_LINES} more` : '';
  const lines = `${places.length === 1 ? 'line' : 'lines'} ${places.slice(0, NAMED_LINES).join(', ')}${more}`;
  return {
    code: 'unused-row',
    // A report none of whose rows is about a clip that is here was meant for other clips, or names them in a way nobody reads.
    severity: used ? 'note' : 'warn',
    subject: [],
    measured: { value: rows.length, unit: '' },
    allowed: { value: 0, unit: '' },
    consequence: `${file} (${lines}) names no clip that is here: what is written there is not used.`,
    remedy: 'nothing if these are clips of another day; else add the clips, or correct file, roll and clip, or slate and take',
    evidence: rows.map(({ note, names }) => `${where(note)}: ${names === '' ? 'names no file, clip, slate or timecode' : names}`),
  };
}

function isRow({ place }: ClipNote): boolean {
  return place !== '';
}

function where({ file, place }: ClipNote): string {
  return place === '' ? file : `${file}, ${place}`;
}
