import type { JudgedSet } from '../../core/checks/judged.ts';
import { shownNeeds } from './coverage-drawing.ts';

/** One shot of a set: its code, and the set with nothing but what that shot needs. */
export interface SheetShot {
  readonly shot: string;
  readonly judged: JudgedSet;
}

/** The shots of a set that get a sheet of their own, in the order they lie in the takes; none where no cut and no shot list names one. */
export function shotsOfSet(judged: JudgedSet): readonly SheetShot[] {
  const codes = new Set(shownNeeds(judged).flatMap(({ shot }) => shot ?? []));
  return [...codes].map((shot) => ({ shot, judged: narrowed(judged, shot) }));
}

/** The set as one shot sees it. Verdict, findings and plates stay those of the set: it is struck as a whole. */
function narrowed(judged: JudgedSet, shot: string): JudgedSet {
  const needed = shownNeeds(judged).filter((need) => need.shot === shot);
  return { ...judged, needed, countingLeads: [...new Set(needed.map(({ lead }) => lead))], shots: judged.shots.filter((row) => row.shot === shot) };
}
