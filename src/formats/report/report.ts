import type { JudgedDay } from '../../core/checks/judged.ts';
import type { ClipId } from '../../core/material/clip.ts';
import { sortedBy } from './order.ts';
import type { ReportClip } from './report-clip.ts';
import { clipOf } from './report-clip.ts';
import type { ReportFinding } from './report-finding.ts';
import { findingsOf } from './report-finding.ts';
import type { ReportSet } from './report-set.ts';
import { setOf } from './report-set.ts';

/** The name and version of the shape; a change that breaks a reader raises the number. */
export const REPORT_SCHEMA = 'gemel/report/1';

/** A judged day as `report.json` holds it. Described by docs/report.schema.json. */
export interface Report {
  readonly schema: typeof REPORT_SCHEMA;
  readonly clips: readonly ReportClip[];
  readonly sets: readonly ReportSet[];
  readonly unplaced: readonly ClipId[];
  /** Why each unplaced clip is in no set, in the order of `unplaced`. */
  readonly unplacedReasons: readonly { readonly clip: ClipId; readonly why: string }[];
  /** Findings that belong to no set. */
  readonly findings: readonly ReportFinding[];
}

/** The report of a judged day: lists sorted, keys in a fixed order, so the same day gives the same report whatever order it was read in. */
export function reportOf(day: JudgedDay): Report {
  const unplaced = sortedBy(day.unplaced, ({ clip }) => clip);
  return {
    schema: REPORT_SCHEMA,
    clips: sortedBy(day.clips, (clip) => clip.id).map(clipOf),
    sets: sortedBy(day.sets, (set) => set.matched.set.id).map(setOf),
    unplaced: unplaced.map(({ clip }) => clip),
    unplacedReasons: unplaced.map(({ clip, why }) => ({ clip, why })),
    findings: findingsOf(day.findings),
  };
}

/** A report as the text of `report.json`: two spaces, a line feed at the end. */
export function formatReport(report: Report): string {
  return `${JSON.stringify(report, null, 2)}\n`;
}
