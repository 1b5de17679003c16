import type { Chosen, Clip } from '../material/clip.ts';
import type { Source } from '../material/statement.ts';
import { clipName } from './passes.ts';

/** Where a value stands: "report.csv, line 4, column stop"; the file alone when it is the file as a whole. */
export function sourceText({ file, place }: Pick<Source, 'file' | 'place'>): string {
  return place === '' ? file : `${file}, ${place}`;
}

/** One line of evidence: whose value, what was written, where it stands. */
export function readAt(clip: Clip, what: string, { raw, source }: Pick<Chosen<unknown>, 'raw' | 'source'>): string {
  return `${clipName(clip)}, ${what} "${raw}": ${sourceText(source)}`;
}

/** Whether a value lies where the formulas hold: clearly above 0 and at most `most`. Others come of misread papers, and are not compared. */
export function isPossible(value: number, most = 1e7): boolean {
  return value >= 1e-6 && value <= most;
}

/** A number to so many decimals, never −0. */
export function figure(value: number, decimals: number): number {
  const scale = 10 ** decimals;
  const scaled = Math.round(value * scale);
  return Number.isFinite(scaled) ? scaled / scale + 0 : value;
}

/** A distance in metres as people read it: "2.4 m", "infinity". */
export function metres(distance: number): string {
  return Number.isFinite(distance) ? `${figure(distance, 3)} m` : 'infinity';
}
