import type { Field } from '../../core/material/statement.ts';
import { formatRate, frameRate, hasDropFrame, nominalBase } from '../../core/timecode/rate.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import type { Timecode } from '../../core/timecode/timecode.ts';
import { parseLabel, parseLabelParts, TimecodeError } from '../../core/timecode/timecode.ts';
import type { Completeness, FoundProblem, FoundValue, MediaFacts } from './media-facts.ts';
import { doubtful, firstOf, found, mediaFacts, present } from './media-facts.ts';
import type { SequenceGroup } from './sequence-name.ts';

/** One picture of a sequence that was read. */
export interface SequenceSample {
  readonly name: string;
  readonly number: number;
  readonly facts: MediaFacts;
}

/** Which files of a sequence to read, in order: the first four (labels may stand for pairs), three in between, the last. */
export function filesToSample(group: SequenceGroup): SequenceGroup['files'] {
  const { files } = group;
  const last = files.length - 1;
  const wanted = new Set([0, 1, 2, 3, Math.floor(last / 4), Math.floor(last / 2), Math.floor((last * 3) / 4), last]);
  return files.filter((_, index) => wanted.has(index));
}

/**
 * What a sequence says of itself: what its first picture says, with the count of its files, and with what changes along it
 * that should not. Samples in order of their numbers, at least one.
 */
export function sequenceFacts(group: SequenceGroup, samples: readonly SequenceSample[]): MediaFacts {
  const [first] = samples;
  if (first === undefined) return mediaFacts({ container: 'unknown', completeness: { condition: 'unreadable', complete: false, why: 'no picture was read' }, values: [] });
  const clock = sequenceClock(samples);
  const frames = found('frames', group.files.length, String(group.files.length), 'count of files');
  const duplicates = group.duplicates.map((number) => doubtful(group.displayName, `frame ${number} twice, with different padding`, 'each frame once'));
  return mediaFacts({
    container: first.facts.container,
    completeness: worstCompleteness(samples),
    values: [frames, ...first.facts.values.filter(({ field }) => clock.rate === undefined || field !== 'timecodeRate'), ...clock.values],
    texts: first.facts.texts,
    notUnderstood: first.facts.notUnderstood,
    problems: [...first.facts.problems, ...duplicates, ...changes(samples), ...clock.problems],
    ...present({ timecode: clock.timecode ?? first.facts.timecode }),
  });
}

const BY_SEVERITY = ['empty', 'unreadable', 'truncated', 'open', 'unverified', 'whole'] as const;

/** The worst of the pictures, named; only those that were read are vouched for. */
function worstCompleteness(samples: readonly SequenceSample[]): Completeness {
  for (const condition of BY_SEVERITY) {
    const worst = samples.find(({ facts }) => facts.completeness.condition === condition);
    if (worst === undefined) continue;
    if (condition === 'whole') return { condition, complete: true, why: `the ${samples.length} pictures looked at are whole` };
    return { ...worst.facts.completeness, why: `${worst.name}: ${worst.facts.completeness.why}` };
  }
  return { condition: 'unverified', complete: null, why: 'no picture was read' };
}

/** Fields that stay the same along one run of a camera. Focus, stop and zoom may be pulled. */
const CONSTANT: readonly Field[] = ['raster', 'fps', 'sensorFps', 'codec', 'reel', 'cameraModel', 'cameraSerial', 'lens', 'lensSerial', 'ei', 'whiteBalance', 'shutter', 'dropFrame'];

function changes(samples: readonly SequenceSample[]): FoundProblem[] {
  return CONSTANT.flatMap((field) => {
    const stating = samples.flatMap(({ number, facts }) => facts.values.filter((value) => value.field === field).slice(0, 1).map(({ value, raw }) => ({ number, raw, key: JSON.stringify(value) })));
    const [first] = stating;
    const other = stating.find(({ key }) => key !== first?.key);
    if (first === undefined || other === undefined) return [];
    return [doubtful(`frame ${other.number}`, `${field} ${other.raw}`, `${first.raw} as in frame ${first.number}`)];
  });
}

interface Clock {
  readonly values: readonly FoundValue[];
  readonly problems: readonly FoundProblem[];
  readonly timecode?: Timecode;
  /** Set when the samples together told how fast labels count, which one alone could not. */
  readonly rate?: FrameRate;
}

/** Whether timecode runs one frame a picture, and how it counts above 30 frames a second, where one label may stand for two pictures. */
function sequenceClock(samples: readonly SequenceSample[]): Clock {
  const labels = samples.flatMap(({ number, facts }) => {
    const label = firstOf(facts.values, 'tcIn');
    return label === undefined ? [] : [{ number, label }];
  });
  const rate = samples[0]?.facts.rate;
  const [first] = labels;
  if (first === undefined || first.number !== samples[0]?.number || rate === undefined) return { values: [], problems: missingClock(samples.length, labels.length) };
  const problems = missingClock(samples.length, labels.length);
  const full = countsAt(labels, rate, 1);
  const fast = nominalBase(rate) > 30;
  const pairs = fast ? countsAt(labels, frameRate(rate.num, rate.den * 2), 2) : undefined;
  if (full?.runs === true && (!fast || labels.length > 2)) return fast ? clockOf(full.start, rate, problems) : { values: [], problems };
  if (pairs?.runs === true && labels.length > 2) return clockOf(pairs.start, frameRate(rate.num, rate.den * 2), problems);
  if (labels.length < 2 || full === undefined) return { values: [], problems };
  return { values: [], problems: [...problems, doubtful('timecode', full.jump, 'one frame further with each picture')] };
}

function missingClock(samples: number, labels: number): FoundProblem[] {
  return labels === 0 || labels === samples ? [] : [doubtful('timecode', `${labels} of the ${samples} pictures looked at`, 'timecode in every picture')];
}

function clockOf(timecode: Timecode, rate: FrameRate, problems: readonly FoundProblem[]): Clock {
  return { values: [found('timecodeRate', rate, formatRate(rate), 'timecode of several pictures')], problems, timecode, rate };
}

/** Whether labels run when each stands for `pictures` pictures; the first may be the second of its pair. */
function countsAt(labels: readonly { number: number; label: string }[], rate: FrameRate, pictures: 1 | 2): { start: Timecode; runs: boolean; jump: string } | undefined {
  const numbered = labels.map(({ number, label }) => ({ number, label, timecode: timecodeAt(label, rate) }));
  const [first] = numbered;
  if (first?.timecode === undefined) return undefined;
  const start = first.timecode;
  const off = (phase: number): { number: number; label: string } | undefined =>
    numbered.find(({ number, timecode }) => timecode?.frame !== start.frame + Math.floor((number - first.number + phase) / pictures));
  const wrong = off(0);
  const runs = wrong === undefined || (pictures === 2 && off(1) === undefined);
  return { start, runs, jump: wrong === undefined ? '' : `${first.label} in frame ${first.number} but ${wrong.label} in frame ${wrong.number}` };
}

function timecodeAt(label: string, rate: FrameRate): Timecode | undefined {
  try {
    const drop = parseLabelParts(label).separatorDrop && hasDropFrame(rate);
    return parseLabel(label, { base: nominalBase(rate), drop });
  } catch (error) {
    if (error instanceof TimecodeError) return undefined;
    throw error;
  }
}
