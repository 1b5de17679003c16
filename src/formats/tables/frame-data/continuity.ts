import type { TimecodeFormat } from '../../../core/timecode/timecode.ts';
import { framesPerDay, parseLabel, parseLabelParts, TimecodeError } from '../../../core/timecode/timecode.ts';

/** The timecode of one row of per-frame data. */
export interface FrameLabel {
  readonly line: number;
  readonly label: string;
}

/** Where the labels do not run on by one frame. */
export interface LabelJump {
  readonly from: FrameLabel;
  readonly to: FrameLabel;
}

const BASES = [24, 25, 30, 48, 50, 60, 100, 120];

/**
 * The places where per-frame labels do not run on. `base` is the labels a second when known, else the smallest usual one that
 * holds every label. Several frames may share a label (a fast rate with timecode of half the rate), if all share alike.
 */
export function findJumps(labels: readonly FrameLabel[], base?: number): readonly LabelJump[] {
  const read = labels.flatMap((row) => (isLabel(row.label) ? [row] : []));
  const most = read.reduce((most, { label }) => Math.max(most, parseLabelParts(label).frames), 0);
  const labelsASecond = base !== undefined && base > most ? base : BASES.find((candidate) => candidate > most);
  if (labelsASecond === undefined) return [];
  const nonDrop = jumpsIn(read, { base: labelsASecond, drop: false });
  if (nonDrop.length === 0 || labelsASecond % 30 !== 0) return nonDrop;
  const drop = jumpsIn(read, { base: labelsASecond, drop: true });
  return drop.length < nonDrop.length ? drop : nonDrop;
}

function isLabel(label: string): boolean {
  try {
    parseLabelParts(label);
    return true;
  } catch (error) {
    if (error instanceof TimecodeError) return false;
    throw error;
  }
}

function frameOf(label: string, format: TimecodeFormat): number | undefined {
  try {
    return parseLabel(label, format).frame;
  } catch (error) {
    if (error instanceof TimecodeError) return undefined;
    throw error;
  }
}

interface Run {
  readonly first: FrameLabel;
  readonly frame: number | undefined;
  rows: number;
}

function jumpsIn(labels: readonly FrameLabel[], format: TimecodeFormat): readonly LabelJump[] {
  const runs: Run[] = [];
  for (const row of labels) {
    const last = runs.at(-1);
    if (last?.first.label === row.label) last.rows += 1;
    else runs.push({ first: row, frame: frameOf(row.label, format), rows: 1 });
  }
  const share = Math.max(1, ...runs.slice(1, 2).map(({ rows }) => rows));
  const day = framesPerDay(format);
  return runs.flatMap((run, at) => {
    const next = runs[at + 1];
    if (next === undefined) return [];
    const step = run.frame === undefined || next.frame === undefined ? undefined : (next.frame - run.frame + day) % day;
    const sharesAlike = at === 0 ? run.rows <= share : run.rows === share;
    return step === 1 && sharesAlike ? [] : [{ from: run.first, to: next.first }];
  });
}
