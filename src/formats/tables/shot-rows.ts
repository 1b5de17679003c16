import type { ReadingProblem } from '../../core/material/finding.ts';
import type { ShotRow } from '../../core/material/shot-list.ts';
import { readFrameCount } from '../values/count.ts';
import type { Reading } from '../values/reading.ts';
import { readTakeNumber } from '../values/take.ts';
import { readTimecodeLabel } from '../values/timecode-label.ts';
import { readWords } from '../values/words.ts';
import { CellLog } from './cell-log.ts';
import type { Column } from './columns.ts';
import { cellOf } from './columns.ts';
import type { TableRow } from './split-rows.ts';

const SHOT_HEADINGS: Readonly<Record<string, string>> = {
  shot: 'shot', shotcode: 'shot', shotname: 'shot', vfxshot: 'shot', vfxid: 'shot', slate: 'slate', take: 'take', tk: 'take', camera: 'camera', cam: 'camera',
  method: 'method', vendor: 'vendor', description: 'description', cutin: 'cutIn', cutout: 'cutOut', head: 'head', headhandle: 'head',
  tail: 'tail', tailhandle: 'tail', notes: 'notes', note: 'notes',
};

/** The part of a shot a heading names, by its key; undefined when it is none. */
export function shotHeading(key: string): string | undefined {
  return Object.hasOwn(SHOT_HEADINGS, key) ? SHOT_HEADINGS[key] : undefined;
}

/** A shot list: one shot a row. A row without a shot code or a slate is a problem and is left out. */
export function readShotRows(
  file: string, columns: readonly Column[], rows: readonly TableRow[],
): { readonly shots: readonly ShotRow[]; readonly problems: readonly ReadingProblem[] } {
  const log = new CellLog(file);
  const shots = rows.flatMap((row) => readShotRow(file, columns, row, log));
  return { shots, problems: log.problems };
}

function readShotRow(file: string, columns: readonly Column[], row: TableRow, log: CellLog): readonly ShotRow[] {
  const read = <T>(name: string, parse: (text: string) => Reading<T>): T | undefined => {
    const column = columns.find(({ key }) => shotHeading(key) === name);
    const raw = column === undefined ? '' : cellOf(row, column);
    return column === undefined ? undefined : log.value(parse(raw), { line: row.line, heading: column.heading, raw });
  };
  const shot = read('shot', readWords);
  const slate = read('slate', readWords);
  if (shot === undefined || slate === undefined) {
    log.refuseRow(row.line, shot === undefined ? 'shot code' : 'slate', 'a shot code and the slate it was shot under');
    return [];
  }
  const handles = withoutAbsent({ head: read('head', readFrameCount), tail: read('tail', readFrameCount) });
  const rest = withoutAbsent({
    take: read('take', readTakeNumber), camera: read('camera', readWords), method: read('method', readWords), vendor: read('vendor', readWords),
    description: read('description', readWords), cutIn: read('cutIn', readTimecodeLabel), cutOut: read('cutOut', readTimecodeLabel), notes: read('notes', readWords),
  });
  return [{ shot, slate, ...rest, handles, from: `${file} line ${row.line}` }];
}

type WithoutAbsent<T> = { [K in keyof T]?: Exclude<T[K], undefined> };

/** The object without its undefined members: absent means absent. */
export function withoutAbsent<T extends object>(members: T): WithoutAbsent<T> {
  const kept: WithoutAbsent<T> = {};
  for (const key in members) {
    const value = members[key];
    if (value !== undefined) kept[key] = value as Exclude<T[typeof key], undefined>;
  }
  return kept;
}
