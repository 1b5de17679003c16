import type { ReadingProblem } from '../../core/material/finding.ts';
import { lastFrame, lengthOf } from '../../core/timecode/range.ts';
import type { TimecodeFormat } from '../../core/timecode/timecode.ts';
import { formatTimecode } from '../../core/timecode/timecode.ts';
import type { TimedSample } from './count-frames.ts';
import { countFrames, holesOf } from './count-frames.ts';
import { ProblemList } from './problem-list.ts';
import type { ReadSample } from './read-sample.ts';
import { readSample } from './read-sample.ts';
import { readSamples } from './read-samples.ts';
import type { TrackedCamera, TrackedMove } from '../../core/material/tracked-move.ts';

/** A recording as text: a list, one sample a line, or a single sample. */
export interface TrackingFile {
  readonly file: string;
  readonly text: string;
}

/**
 * The moves in recordings of OpenTrackIO samples, one for each source, in the order of their sources' names. Several files are read as one recording, so that a
 * folder of one sample a file works. Nothing throws: what cannot be used is a problem with its place, and the rest still counts.
 */
export function parseOpenTrackIo(files: readonly TrackingFile[]): { readonly moves: readonly TrackedMove[]; readonly problems: readonly ReadingProblem[] } {
  const problems = new ProblemList();
  const samples = files.flatMap(({ file, text }) => readSamples(text, file, problems)).flatMap((placed) => readSample(placed, problems) ?? []);
  const moves = [...bySource(samples)].toSorted(([a], [b]) => (a < b ? -1 : 1)).flatMap(([source, ofSource]) => moveOf(source, ofSource, problems) ?? []);
  return { moves, problems: problems.list() };
}

function bySource(samples: readonly ReadSample[]): ReadonlyMap<string, readonly ReadSample[]> {
  const sources = new Map<string, ReadSample[]>();
  for (const sample of samples) {
    const known = sources.get(sample.source);
    if (known === undefined) sources.set(sample.source, [sample]);
    else known.push(sample);
  }
  return sources;
}

function moveOf(source: string, samples: readonly ReadSample[], problems: ProblemList): TrackedMove | undefined {
  const counted = countFrames(samples.filter(isTimed), problems);
  if (counted === undefined) return undefined;
  const holes = holesOf(counted.samples);
  const [hole] = holes;
  if (hole !== undefined) {
    const frames = holes.reduce((sum, one) => sum + lengthOf(one), 0);
    problems.add(samples[0]?.file ?? '', '', {
      found: `no samples for ${frames} frames of the move, the first ${framesText(hole.start, lastFrame(hole), counted.format)}`,
      expected: 'a sample for every frame',
      remedy: 'Where more than two are missing on end the move is not compared.',
    });
  }
  const slate = samples.find((sample) => sample.slate !== undefined)?.slate;
  return { source, ...(slate === undefined ? {} : { slate }), ...counted, holes, camera: cameraOf(samples) };
}

function isTimed(sample: ReadSample): sample is TimedSample {
  return sample.timed !== undefined;
}

/** What is said once holds for the whole move; of two that contradict each other the first counts. */
function cameraOf(samples: readonly ReadSample[]): TrackedCamera {
  return samples.reduceRight<TrackedCamera>((camera, sample) => ({ ...camera, ...sample.camera }), {});
}

function framesText(first: number, last: number, format: TimecodeFormat | undefined): string {
  const text = (frame: number): string => (format === undefined ? `sample ${frame}` : formatTimecode({ frame, format }));
  return first === last ? text(first) : `${text(first)} to ${text(last)}`;
}
