import type { ReadClip } from '../../core/material/clip.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import { nameStatements } from '../../formats/media/camera-name.ts';
import type { MediaFacts } from '../../formats/media/media-facts.ts';
import { mediaFacts, problemsOf, statementsOf } from '../../formats/media/media-facts.ts';
import { readMedia } from '../../formats/media/media-kind.ts';
import type { SequenceSample } from '../../formats/media/sequence-facts.ts';
import { filesToSample, sequenceFacts } from '../../formats/media/sequence-facts.ts';
import type { FoundFile } from '../../ports.ts';
import type { ClipReading } from './clip-reading.ts';
import { canBeJudged, completeFacts } from './complete-facts.ts';
import type { Readers } from './readers.ts';
import type { FoundSequence } from './sort-files.ts';
import { isRaw, nameOf } from './sort-files.ts';
import { explain } from './unusable.ts';

type NumberedFile = FoundSequence['frames'][number];
interface Sample extends SequenceSample {
  readonly found: FoundFile;
  readonly changed: boolean;
}

/** Reads an image sequence as one clip: the headers of its first, its last and a few pictures between. A picture that is broken leaves the others whole. */
export async function readSequence(sequence: FoundSequence, readers: Readers, signal: AbortSignal): Promise<ClipReading> {
  const sampled = new Set(filesToSample(sequence.group).map(({ number, name }) => `${number} ${name}`));
  const samples: Sample[] = [];
  for (const frame of sequence.frames) {
    if (sampled.has(`${frame.number} ${nameOf(frame.found.file)}`)) samples.push(await readSample(frame, readers, signal));
  }
  const sound = samples.filter(({ facts }) => canBeJudged(facts.completeness.condition));
  const broken = brokenFrames(sequence, samples);
  const facts = await factsOf(sequence, sound.length > 0 ? sound : samples, readers, signal);
  const clip = clipOf(sequence, facts, broken, sound.length > 0);
  const last = sequence.frames.at(-1)?.found;
  return {
    clip,
    ends: [sequence.frames[0]?.found, last].filter((found) => found !== undefined),
    doubtful: clip.complete === true ? [] : [...broken.map(({ found }) => found), ...(last === undefined ? [] : [last])],
    changed: samples.some(({ changed }) => changed),
  };
}

async function readSample({ number, found }: NumberedFile, { store }: Readers, signal: AbortSignal): Promise<Sample> {
  const name = nameOf(found.file);
  try {
    const open = await store.open(found.path, signal);
    try {
      const facts = (await readMedia(open, found.file)) ?? unreadable('a kind of picture that no reader knows');
      return { number, name, facts, found, changed: open.size !== found.sizeBytes || open.modifiedMs !== found.modifiedMs };
    } finally {
      await open.close();
    }
  } catch (failure) {
    signal.throwIfAborted();
    return { number, name, facts: unreadable(explain(failure).found), found, changed: false };
  }
}

function unreadable(why: string): MediaFacts {
  return mediaFacts({ container: 'unknown', completeness: { condition: 'unreadable', complete: false, why }, values: [] });
}

async function factsOf(sequence: FoundSequence, samples: readonly Sample[], readers: Readers, signal: AbortSignal): Promise<MediaFacts> {
  const facts = sequenceFacts(sequence.group, samples);
  const [first] = samples;
  if (first === undefined || !canBeJudged(facts.completeness.condition)) return facts;
  const complete = await completeFacts(facts, first.found.path, readers, signal);
  // When the first picture is broken, the timecode of a later one is not the clip's start.
  return first.number === sequence.facts.first ? complete : mediaFacts({ ...complete, values: complete.values.filter(({ field }) => field !== 'tcIn') });
}

/** Pictures that are no pictures: empty ones by their size, and those whose header was looked at and found wanting. */
function brokenFrames({ frames }: FoundSequence, samples: readonly Sample[]): readonly NumberedFile[] {
  const wanting = new Set(samples.filter(({ facts }) => !canBeJudged(facts.completeness.condition)).map(({ found }) => found));
  return frames.filter(({ found }) => found.sizeBytes === 0 || wanting.has(found));
}

function clipOf({ file, frames, facts: sequence }: FoundSequence, facts: MediaFacts, broken: readonly NumberedFile[], usable: boolean): ReadClip {
  const holes = sequence.missing.reduce((sum, { start, end }) => sum + end - start, 0);
  const wanting = [...(holes > 0 ? [`${holes} numbers are missing`] : []), ...(broken.length > 0 ? [`${broken.length} pictures are broken`] : [])];
  return {
    file,
    kind: 'sequence',
    statements: [...statementsOf(facts, file), ...nameStatements(file)],
    tracks: [],
    frames: frames.length,
    complete: wanting.length > 0 ? false : facts.completeness.complete,
    completeness: wanting.length > 0 ? wanting.join(', ') : facts.completeness.why,
    sequence,
    sizeBytes: frames.reduce((sum, { found }) => sum + found.sizeBytes, 0),
    decodable: usable && !isRaw(file),
    problems: [...(usable && broken.length > 0 ? [brokenProblem(file, broken)] : []), ...problemsOf(facts, file)],
    usable,
  };
}

function brokenProblem(file: string, broken: readonly NumberedFile[]): ReadingProblem {
  const numbers = broken.map(({ number }) => number);
  const shown = numbers.slice(0, 12).join(', ') + (numbers.length > 12 ? ` and ${numbers.length - 12} more` : '');
  return {
    code: 'unreadable-file',
    severity: 'stop',
    file,
    place: `frame ${shown}`,
    found: broken.length === 1 ? 'a picture that is empty or cut off' : `${broken.length} pictures that are empty or cut off`,
    expected: 'whole pictures',
    remedy: 'copy them again from the card or from another copy; erase nothing until they read',
  };
}
