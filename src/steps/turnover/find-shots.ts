import type { JudgedDay, JudgedSet } from '../../core/checks/judged.ts';
import type { NeededRange } from '../../core/coverage/coverage.ts';
import type { Clip } from '../../core/material/clip.ts';
import type { LeadMatch } from '../../core/material/plate-set.ts';
import type { ShotRow } from '../../core/material/shot-list.ts';
import { compareText, sortedBy } from '../../formats/report/order.ts';

/** One shot: its row, the range it needs of its lead, and what is matched to that lead. `code` is unlike every other shot's. */
export interface FoundShot {
  readonly code: string;
  readonly row: ShotRow;
  readonly judged: JudgedSet;
  readonly needed: NeededRange;
  readonly lead: Clip;
  readonly match: LeadMatch;
}

/** The shots of a day in the order of the cut, then by code; a row that several takes could answer goes to one of those its set is judged by. A code that comes again gets a number. Where there is a cut, shots of the shot list that are not in it are left out. */
export function findShots(day: JudgedDay, fromCut: boolean): readonly FoundShot[] {
  const byRow = new Map<string, FoundShot>();
  const sets = sortedBy(day.sets, ({ matched }) => matched.set.id);
  for (const found of sets.flatMap(shotsOf).filter(({ row }) => !fromCut || row.inCut !== undefined)) {
    const key = JSON.stringify([found.code, found.row.from]);
    const rival = byRow.get(key);
    if (rival === undefined || rank(found) < rank(rival)) byRow.set(key, found);
  }
  const inOrder = [...byRow.values()].toSorted((a, b) => place(a) - place(b) || compareText(a.code, b.code) || compareText(a.row.from, b.row.from));
  const seen = new Map<string, number>();
  return inOrder.map((found) => {
    const times = (seen.get(found.code) ?? 0) + 1;
    seen.set(found.code, times);
    return times === 1 ? found : { ...found, code: `${found.code}_${times}` };
  });
}

function shotsOf(judged: JudgedSet): readonly FoundShot[] {
  const { matches, set } = judged.matched;
  return judged.needed.flatMap((needed) => {
    const { shot } = needed;
    const row = judged.shots.find((one) => one.shot === shot && needed.from.startsWith(one.from));
    const lead = set.clips.find(({ id }) => id === needed.lead);
    if (shot === undefined || row === undefined || lead === undefined) return [];
    const match = matches.find((one) => one.lead === needed.lead) ?? { lead: needed.lead, elements: [], references: [] };
    return [{ code: shot, row, judged, needed, lead, match }];
  });
}

/** The take the cut uses first, then one the set is judged by, then a circled one. */
function rank({ judged, needed, lead, row }: FoundShot): number {
  if (row.inCut !== undefined) return row.inCut.lead === lead.id ? 0 : 4;
  return judged.countingLeads.includes(needed.lead) ? 1 : lead.circled === true ? 2 : 3;
}

function place({ row }: FoundShot): number {
  return row.inCut === undefined ? Number.MAX_SAFE_INTEGER : row.inCut.record.start;
}
