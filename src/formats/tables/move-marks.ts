import type { ReadingProblem } from '../../core/material/finding.ts';
import type { MoveMark } from '../../core/material/shot-list.ts';
import { readAngle, readPan, readTilt } from '../values/angle.ts';
import { readSeconds } from '../values/count.ts';
import { readFocusDistance, readPosition } from '../values/distance.ts';
import { readFocalLength } from '../values/focal-length.ts';
import { headingUnit } from '../values/heading-unit.ts';
import type { Reading } from '../values/reading.ts';
import { readTakeNumber } from '../values/take.ts';
import { readTimecodeLabel } from '../values/timecode-label.ts';
import type { CellUnit } from '../values/unit.ts';
import { readWords } from '../values/words.ts';
import { normaliseHeading } from '../../core/material/heading.ts';
import { CellLog } from './cell-log.ts';
import type { Column } from './columns.ts';
import { cellOf } from './columns.ts';
import { withoutAbsent } from './shot-rows.ts';
import type { TableRow } from './split-rows.ts';

/** `roll` is an angle here. */
const MOVE_HEADINGS: Readonly<Record<string, string>> = {
  slate: 'slate', take: 'take', tk: 'take', camera: 'camera', cam: 'camera', pass: 'pass', mark: 'mark', tc: 'tc', timecode: 'tc', time: 'time',
  x: 'x', y: 'y', z: 'z', pan: 'pan', 'pan°': 'pan', tilt: 'tilt', 'tilt°': 'tilt', roll: 'roll', 'roll°': 'roll', rollangle: 'roll',
  focallength: 'focalLength', focal: 'focalLength', lens: 'focalLength', focusdistance: 'focusDistance', focus: 'focusDistance', notes: 'notes', note: 'notes',
};

/** The part of a mark a heading names, with its unit; undefined when it is none. */
export function moveHeading(heading: string): { readonly name: string; readonly unit?: CellUnit } | undefined {
  const { rest, unit } = headingUnit(heading);
  const name = find(normaliseHeading(heading)) ?? find(normaliseHeading(rest));
  return name === undefined ? undefined : unit === undefined ? { name } : { name, unit };
}

/** Move notes: one mark a row. A row without a slate or a mark is a problem and is left out. */
export function readMoveMarks(
  file: string, columns: readonly Column[], rows: readonly TableRow[],
): { readonly marks: readonly MoveMark[]; readonly problems: readonly ReadingProblem[] } {
  const log = new CellLog(file);
  const marks = rows.flatMap((row) => readMark(file, columns, row, log));
  return { marks, problems: log.problems };
}

function readMark(file: string, columns: readonly Column[], row: TableRow, log: CellLog): readonly MoveMark[] {
  const read = <T>(name: string, parse: (text: string, unit?: CellUnit) => Reading<T>): T | undefined => {
    const column = columns.find(({ heading }) => moveHeading(heading)?.name === name);
    const raw = column === undefined ? '' : cellOf(row, column);
    return column === undefined ? undefined : log.value(parse(raw, moveHeading(column.heading)?.unit), { line: row.line, heading: column.heading, raw });
  };
  const slate = read('slate', readWords);
  const mark = read('mark', readWords);
  if (slate === undefined || mark === undefined) {
    log.refuseRow(row.line, slate === undefined ? 'slate' : 'mark', 'the slate and the name of the mark');
    return [];
  }
  const rest = withoutAbsent({
    take: read('take', readTakeNumber), camera: read('camera', readWords), tc: read('tc', readTimecodeLabel), timeS: read('time', readSeconds),
    x: read('x', readPosition), y: read('y', readPosition), z: read('z', readPosition),
    pan: read('pan', readPan), tilt: read('tilt', readTilt), roll: read('roll', readAngle),
    focalLengthMm: read('focalLength', readFocalLength), focusDistanceM: read('focusDistance', readFocusDistance), notes: read('notes', readWords),
  });
  return [{ slate, mark, pass: read('pass', readWords) ?? '', ...rest, from: `${file} line ${row.line}` }];
}

function find(key: string): string | undefined {
  return Object.hasOwn(MOVE_HEADINGS, key) ? MOVE_HEADINGS[key] : undefined;
}
