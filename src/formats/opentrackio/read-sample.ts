import { quaternionOf } from '../../core/optics/moves/quaternion.ts';
import { placeOnStage, turnOnStage } from '../../core/optics/moves/stage.ts';
import { composeTransforms } from './compose-transforms.ts';
import { asRecord, asText } from './json-record.ts';
import type { ProblemList } from './problem-list.ts';
import { readCamera } from './read-camera.ts';
import { readLens } from './read-lens.ts';
import type { PlacedSample } from './read-samples.ts';
import type { SampleTime } from './read-timing.ts';
import { readTiming } from './read-timing.ts';
import type { TrackedCamera, TrackedSample } from '../../core/material/tracked-move.ts';

/** One sample read: of which source, when, where. `pose` is absent when it cannot be used for comparing moves; what it says of the camera still counts. */
export interface ReadSample {
  readonly file: string;
  readonly place: string;
  readonly source: string;
  readonly slate?: string;
  readonly camera: TrackedCamera;
  readonly timed?: { readonly time: SampleTime; readonly pose: Omit<TrackedSample, 'frame'> };
}

/** Reads a sample; undefined when it is of a version nobody here knows. */
export function readSample(placed: PlacedSample, problems: ProblemList): ReadSample | undefined {
  const { file, place, value } = placed;
  if (!isKnownVersion(placed, problems)) return undefined;
  const slate = asText(asRecord(value['tracker'])?.['slate']);
  const timed = readTimed(placed, problems);
  return {
    file,
    place,
    source: [asText(value['sourceId']), typeof value['sourceNumber'] === 'number' ? `stream ${value['sourceNumber']}` : undefined].filter((part) => part !== undefined).join(', '),
    camera: readCamera(placed, problems),
    ...(slate === undefined ? {} : { slate }),
    ...(timed === undefined ? {} : { timed }),
  };
}

function readTimed({ file, place, value }: PlacedSample, problems: ProblemList): ReadSample['timed'] {
  const time = readTiming(value['timing']);
  const pose = composeTransforms(value['transforms']);
  const { lens, complaints } = readLens(value['lens']);
  for (const complaint of complaints) problems.add(file, place, complaint);
  if ('found' in time) problems.add(file, place, time);
  else if (time.locked === false) {
    problems.add(file, place, { found: 'a tracker that is not locked to its clock', expected: 'locked synchronisation', remedy: 'Its timecode may drift: check the sync of this move by a moment both passes share.' });
  }
  if ('found' in pose) problems.add(file, place, pose);
  if ('found' in time || 'found' in pose) return undefined;
  return { time, pose: { ...placeOnStage(pose.place), ...quaternionOf(turnOnStage(pose.turn)), ...lens } };
}

/** Versions 0.9 and 1.x put the same things in the same places; a sample without a version is taken for one of them. */
function isKnownVersion({ file, place, value }: PlacedSample, problems: ProblemList): boolean {
  if (value['protocol'] === undefined) return true;
  const protocol = asRecord(value['protocol']) ?? {};
  const { name, version } = protocol;
  const numbers: readonly unknown[] = Array.isArray(version) ? version : [];
  if (name === 'OpenTrackIO' && (numbers[0] === 1 || (numbers[0] === 0 && numbers[1] === 9))) return true;
  problems.add(file, place, { found: `samples of ${typeof name === 'string' ? name : 'another protocol'} ${numbers.join('.')}`, expected: 'OpenTrackIO 0.9 or 1.x', remedy: 'They are not used: have the tracking exported in one of these versions.' });
  return false;
}
