import type { FrameRate } from '../../core/timecode/rate.ts';
import { formatRate, sameRate } from '../../core/timecode/rate.ts';
import type { FrameRange } from '../../core/timecode/range.ts';
import type { TimecodeFormat } from '../../core/timecode/timecode.ts';
import { framesPerDay } from '../../core/timecode/timecode.ts';
import type { ProblemList } from './problem-list.ts';
import type { ReadSample } from './read-sample.ts';
import type { SampleTime } from './read-timing.ts';
import type { TrackedMove, TrackedSample } from '../../core/material/tracked-move.ts';

/** A sample that has a time and a pose. */
export type TimedSample = ReadSample & { readonly timed: NonNullable<ReadSample['timed']> };

type Counted = Pick<TrackedMove, 'rate' | 'counted' | 'format' | 'samples'>;

/** Gives every sample of one source its frame. A label that comes up once too often is a problem; its last sample counts. */
export function countFrames(samples: readonly TimedSample[], problems: ProblemList): Counted | undefined {
  const [first] = samples;
  if (first === undefined) return undefined;
  const labelled = samples.filter(({ timed }) => timed.time.label !== undefined);
  return labelled.length * 2 >= samples.length ? byTimecode(samples, labelled, problems) : byNumber(samples, problems);
}

function byTimecode(samples: readonly TimedSample[], labelled: readonly TimedSample[], problems: ProblemList): Counted | undefined {
  const label = labelled[0]?.timed.time.label;
  if (label === undefined) return undefined;
  const perLabel = samplesPerLabel(labelled, problems);
  const rate: FrameRate = perLabel === 1 ? label.rate : (labelled[0]?.timed.time.sampleRate ?? label.rate);
  const alike = labelled.filter((sample) => isAlike(sample, label, problems));
  for (const { file, place, timed } of samples) if (timed.time.label === undefined) problems.add(file, place, { found: 'a sample without a timecode among others with one', expected: 'a timecode in every sample', remedy: 'The sample is not used.' });
  const format: TimecodeFormat = { base: label.format.base * perLabel, drop: label.format.drop };
  const frames = new Map<number, TimedSample>();
  for (const [frame, group] of groupByLabel(alike)) {
    for (const [index, sample] of group.toSorted(compareWithin).entries()) {
      const phase = sample.timed.time.label?.subFrame ?? index;
      if (perLabel === 1 && index > 0) complainOfRepeat(sample, problems);
      if (perLabel > 1 && (index >= perLabel || phase >= perLabel)) complainOfRepeat(sample, problems);
      frames.set(frame * perLabel + (perLabel === 1 ? 0 : Math.min(phase, perLabel - 1)), sample);
    }
  }
  return { rate, counted: 'timecode', format, samples: inOrder(acrossMidnight(frames, framesPerDay(format))) };
}

function byNumber(samples: readonly TimedSample[], problems: ProblemList): Counted | undefined {
  const [first] = samples;
  const rate = samples.find(({ timed }) => timed.time.sampleRate !== undefined)?.timed.time.sampleRate;
  if (first === undefined) return undefined;
  const isNumbered = samples.every(({ timed }) => timed.time.sequence !== undefined);
  if (rate === undefined) {
    problems.add(first.file, first.place, { found: 'samples without timecode and without a sample rate', expected: 'either', remedy: 'The move is not used: nothing says how fast it ran.' });
    return undefined;
  }
  problems.add(first.file, first.place, {
    found: `samples without timecode, counted by ${isNumbered ? 'their sequence numbers' : 'their order in the file'}`, expected: 'a timecode in every sample', remedy: 'Give the sync of this move by a moment both passes share.',
  }, 'note');
  const frames = new Map<number, TimedSample>();
  for (const [index, sample] of samples.entries()) {
    const frame = isNumbered ? (sample.timed.time.sequence ?? 0) : index;
    if (frames.has(frame)) complainOfRepeat(sample, problems);
    frames.set(frame, sample);
  }
  return { rate, counted: isNumbered ? 'sequence' : 'order', samples: inOrder(frames) };
}

/** Whether samples come two (or more) to a label, as when a tracker runs at twice the rate its labels count. */
function samplesPerLabel(labelled: readonly TimedSample[], problems: ProblemList): number {
  const { sampleRate, label } = labelled[0]?.timed.time ?? {};
  if (sampleRate === undefined || label === undefined || sameRate(sampleRate, label.rate)) return 1;
  const each = (sampleRate.num * label.rate.den) / (sampleRate.den * label.rate.num);
  if (Number.isInteger(each)) return each;
  const [sample] = labelled;
  if (sample !== undefined) {
    problems.add(sample.file, sample.place, { found: `${formatRate(sampleRate)} samples a second under labels of ${formatRate(label.rate)}`, expected: 'a whole number of samples for each label', remedy: 'One sample for each label is used, the last.' });
  }
  return 1;
}

function isAlike(sample: TimedSample, label: NonNullable<SampleTime['label']>, problems: ProblemList): boolean {
  const own = sample.timed.time.label;
  if (own !== undefined && sameRate(own.rate, label.rate) && own.format.drop === label.format.drop) return true;
  problems.add(sample.file, sample.place, { found: 'a timecode that counts otherwise than the first of its source', expected: 'one way of counting for each source', remedy: 'The sample is not used.' });
  return false;
}

function groupByLabel(samples: readonly TimedSample[]): ReadonlyMap<number, readonly TimedSample[]> {
  const groups = new Map<number, TimedSample[]>();
  for (const sample of samples) {
    const frame = sample.timed.time.label?.frame ?? 0;
    const group = groups.get(frame);
    if (group === undefined) groups.set(frame, [sample]);
    else group.push(sample);
  }
  return groups;
}

function compareWithin(a: TimedSample, b: TimedSample): number {
  const [first, second] = [a.timed.time, b.timed.time];
  return (first.label?.subFrame ?? 0) - (second.label?.subFrame ?? 0) || (first.sequence ?? 0) - (second.sequence ?? 0);
}

/** A move that runs through midnight goes on counting. */
function acrossMidnight(frames: ReadonlyMap<number, TimedSample>, day: number): ReadonlyMap<number, TimedSample> {
  const numbers = [...frames.keys()];
  const crosses = numbers.some((frame) => frame < day / 4) && numbers.some((frame) => frame > (day * 3) / 4);
  return crosses ? new Map([...frames].map(([frame, sample]) => [frame < day / 2 ? frame + day : frame, sample])) : frames;
}

function inOrder(frames: ReadonlyMap<number, TimedSample>): readonly TrackedSample[] {
  return [...frames].toSorted(([a], [b]) => a - b).map(([frame, { timed }]) => ({ frame, ...timed.pose }));
}

/** The frames between the first and the last sample that have none. */
export function holesOf(samples: readonly TrackedSample[]): readonly FrameRange[] {
  return samples.slice(1).flatMap(({ frame }, index) => {
    const before = samples[index]?.frame ?? frame;
    return frame - before > 1 ? [{ start: before + 1, end: frame }] : [];
  });
}

function complainOfRepeat({ file, place }: TimedSample, problems: ProblemList): void {
  problems.add(file, place, { found: 'a second sample for one frame', expected: 'one sample a frame', remedy: 'The later of the two is used.' });
}
