import { asNumber, asRecord } from './json-record.ts';
import type { Complaint } from './problem-list.ts';
import type { TrackedSample } from '../../core/material/tracked-move.ts';

type LensValues = Pick<TrackedSample, 'focalLengthMm' | 'focusM' | 'fStop' | 'tStop' | 'entrancePupilMm'>;

/** What each number of the lens is, by its key. All but the entrance pupil must lie above 0. */
const ABOVE_0 = { pinholeFocalLength: 'focalLengthMm', focusDistance: 'focusM', fStop: 'fStop', tStop: 'tStop' } as const;

/** No lens is two metres long: such an offset is in mm, as other formats write it. */
const MOST_PUPIL_M = 2;

/** The lens of a sample. A value that is there and cannot be is left out and complained of; the rest of the sample counts. */
export function readLens(value: unknown): { readonly lens: LensValues; readonly complaints: readonly Complaint[] } {
  const written = asRecord(value) ?? {};
  const complaints: Complaint[] = [];
  const found: { -readonly [K in keyof LensValues]: number } = {};
  for (const [key, name] of Object.entries(ABOVE_0)) {
    if (written[key] === undefined) continue;
    const number = asNumber(written[key]);
    if (number !== undefined && number > 0) found[name] = number;
    else complaints.push({ found: `${key} that is ${number ?? 'no number'}`, expected: 'a number above 0', remedy: 'The value is left out.' });
  }
  const pupilM = asNumber(written['entrancePupilOffset']);
  if (written['entrancePupilOffset'] !== undefined && !(pupilM !== undefined && Math.abs(pupilM) < MOST_PUPIL_M)) {
    complaints.push({ found: `entrancePupilOffset that is ${pupilM ?? 'no number'}`, expected: 'metres, less than 2', remedy: 'The value is left out.' });
  } else if (pupilM !== undefined) found.entrancePupilMm = pupilM * 1000;
  if (found.tStop !== undefined && found.fStop !== undefined && found.tStop < found.fStop * 0.999) {
    complaints.push({ found: `T${found.tStop} at f/${found.fStop}`, expected: 'a T-number no smaller than the f-number', remedy: 'Both are kept; check which is which in the tracker.' });
  }
  return { lens: found, complaints };
}
