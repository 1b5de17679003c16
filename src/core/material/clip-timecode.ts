import type { FrameRate } from '../timecode/rate.ts';
import { hasDropFrame, nominalBase, rateName } from '../timecode/rate.ts';
import type { Timecode, TimecodeFormat } from '../timecode/timecode.ts';
import { parseLabel, parseLabelParts, TimecodeError } from '../timecode/timecode.ts';
import type { ReadingProblem } from './finding.ts';
import type { Statement } from './statement.ts';
import type { SaidByField } from './trust.ts';
import { allOf, firstOf } from './trust.ts';

/** The timecode of a clip: how its labels are written and the first one, as far as sources tell. */
export interface ClipTimecode {
  readonly format?: TimecodeFormat;
  readonly start?: Timecode;
  readonly problems: readonly ReadingProblem[];
}

/**
 * Reads the labels of a clip in the clip's own format: base from the timecode's rate where stated (25 on a 50 fps file), else the
 * file's; drop frame from a flag, else from the separator of the most trusted label. The first label that exists is the start.
 */
export function clipTimecode(said: SaidByField): ClipTimecode {
  const labels = allOf(said, 'tcIn');
  const rate = (firstOf(said, 'timecodeRate') ?? firstOf(said, 'fps'))?.value;
  if (rate === undefined) return { problems: labels.slice(0, 1).map(withoutRate) };
  const problems: ReadingProblem[] = [];
  const format = formatOf(said, rate, problems);
  let start: Timecode | undefined;
  for (const label of labels) {
    const read = readLabel(label, format, start === undefined && !hasDropFrame(rate) && label.source.kind !== 'report', problems);
    start ??= read;
  }
  for (const label of allOf(said, 'tcOut')) readLabel(label, format, false, problems);
  return { format, ...(start === undefined ? {} : { start }), problems };
}

function formatOf(said: SaidByField, rate: FrameRate, problems: ReadingProblem[]): TimecodeFormat {
  const flag = firstOf(said, 'dropFrame');
  const base = nominalBase(rate);
  if (!hasDropFrame(rate)) {
    if (flag?.value === true) problems.push(problemOf(flag, `no drop frame, which does not exist at ${rateName(rate)} fps`));
    return { base, drop: false };
  }
  if (flag !== undefined) return { base, drop: flag.value };
  const label = firstOf(said, 'tcIn') ?? firstOf(said, 'tcOut');
  return { base, drop: label !== undefined && separatesDrop(label.value) };
}

/** ";" and its old stand-ins "," and "." before the frames mean drop frame, where the rate has it. */
function separatesDrop(label: string): boolean {
  try {
    return parseLabelParts(label).separatorDrop;
  } catch {
    return false;
  }
}

function readLabel(
  label: Statement & { field: 'tcIn' | 'tcOut' }, format: TimecodeFormat, refuseSemicolon: boolean, problems: ReadingProblem[],
): Timecode | undefined {
  // Reports write ";" and ":" as it comes; a file or sidecar that says ";" means it, and at this rate it cannot.
  if (refuseSemicolon && label.value.includes(';')) {
    problems.push(problemOf(label, `a label that exists at ${format.base} labels a second: there is no drop frame at this rate`));
    return undefined;
  }
  try {
    return parseLabel(label.value, format);
  } catch (error) {
    if (!(error instanceof TimecodeError)) throw error;
    problems.push(problemOf(label, `a label that exists at ${format.base} labels a second${format.drop ? ', drop frame' : ''}: ${error.reason}`));
    return undefined;
  }
}

function withoutRate(label: Statement): ReadingProblem {
  return problemOf(label, 'a frame rate beside it: without one the label is no point in time', 'state the frame rate in the report or a sidecar');
}

function problemOf({ raw, source }: Statement, expected: string, remedy = 'correct it where it stands, or leave it out'): ReadingProblem {
  return { code: 'unreadable-value', severity: 'warn', file: source.file, place: source.place, found: raw, expected, remedy };
}
