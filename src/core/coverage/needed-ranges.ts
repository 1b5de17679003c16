import type { Clip } from '../material/clip.ts';
import type { ReadingProblem } from '../material/finding.ts';
import type { ShotRow } from '../material/shot-list.ts';
import { overlap } from '../timecode/range.ts';
import type { Handles } from '../timecode/range.ts';
import type { NeededRange } from './coverage.ts';
import type { CutReading } from './cut-range.ts';
import { readCut } from './cut-range.ts';
import { namesLead } from './shot-of-lead.ts';
import { spanOf } from './span.ts';

export interface NeededRanges {
  readonly ranges: readonly NeededRange[];
  readonly problems: readonly ReadingProblem[];
}

/**
 * What the shots need of a lead: one range a row that names it, with the row's handles or the defaults. Without a row, or where
 * a row gives no cut that can be read, the whole lead take with no handles. `otherLeads` are the other takes of the set-up: a
 * row that names no take belongs to the take its cut lies in. Nothing is given for a lead of unknown length that no cut names.
 */
export function neededRanges(lead: Clip, shots: readonly ShotRow[], defaults: Handles, otherLeads: readonly Clip[] = []): NeededRanges {
  const rows = shots
    .filter((row) => (row.inCut === undefined ? namesLead(row, lead) : row.inCut.lead === lead.id))
    .map((row) => ({ row, cut: readCut(row, lead) }))
    .filter(({ row, cut }) => !belongsElsewhere(row, cut, lead, otherLeads));
  if (rows.length === 0) return { ranges: wholeTake(lead, {}, 'no cut known: the whole lead take'), problems: [] };
  return {
    ranges: rows.flatMap(({ row, cut }) => rangeOf(row, cut, lead, defaults)),
    problems: rows.flatMap(({ cut }) => (cut.kind === 'problem' ? [cut.problem] : [])),
  };
}

function rangeOf(row: ShotRow, cut: CutReading, lead: Clip, defaults: Handles): readonly NeededRange[] {
  const { shot, from } = row;
  switch (cut.kind) {
    case 'cut': {
      const handles = { head: row.handles.head ?? defaults.head, tail: row.handles.tail ?? defaults.tail };
      return [{ lead: lead.id, shot, basis: row.cutFrames === undefined ? 'shot-list' : 'cut', cut: cut.range, handles, from }];
    }
    case 'uncut':
      return wholeTake(lead, { shot }, `${from}, which gives no cut: the whole lead take`);
    case 'problem':
      return wholeTake(lead, { shot }, `${from}, whose cut cannot be placed: the whole lead take`);
    default:
      return cut satisfies never;
  }
}

function wholeTake(lead: Clip, shot: { readonly shot?: string }, from: string): readonly NeededRange[] {
  const length = spanOf(lead);
  if (length === undefined) return [];
  return [{ lead: lead.id, ...shot, basis: 'lead-take', cut: { start: 0, end: length }, handles: { head: 0, tail: 0 }, from }];
}

function belongsElsewhere(row: ShotRow, cut: CutReading, lead: Clip, otherLeads: readonly Clip[]): boolean {
  if (row.take !== undefined || row.inCut !== undefined || cut.kind !== 'cut' || touches(cut, lead)) return false;
  return otherLeads.some((other) => namesLead(row, other) && touches(readCut(row, other), other));
}

function touches(cut: CutReading, lead: Clip): boolean {
  const length = spanOf(lead);
  return cut.kind === 'cut' && length !== undefined && overlap(cut.range, { start: 0, end: length }) !== undefined;
}
