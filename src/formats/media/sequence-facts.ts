import type { Field } from '../../core/material/statement.ts';
import type { Completeness, FoundProblem, MediaFacts } from './media-facts.ts';
import { doubtful, found, mediaFacts, present } from './media-facts.ts';
import { sequenceClock } from './sequence-clock.ts';
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
    values: [frames, ...first.facts.values.filter(({ field }) => clock.timecode === undefined || field !== 'timecodeRate'), ...clock.values],
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
