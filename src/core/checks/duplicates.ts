import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import { sameRecording } from '../matching/same-recording.ts';
import { groupBy } from '../matching/sorted.ts';
import { stemOf } from './passes.ts';
import { raise } from './raise.ts';
import { compareText } from './severity.ts';

/** One recording that lies in the folders twice; `second` is the one to leave out. */
export interface Duplicate {
  readonly first: Clip;
  readonly second: Clip;
}

/** Clips that are one recording, whichever folders they lie in. */
export function findDuplicates(clips: readonly Clip[]): readonly Duplicate[] {
  const byName = groupBy(clips.filter(({ usable }) => usable), ({ file }) => stemOf(file).normalize('NFC').toLowerCase());
  return [...byName.values()].flatMap((namesakes) => {
    const sorted = namesakes.toSorted((a, b) => compareText(a.id, b.id));
    return sorted.flatMap((second, place) => {
      const first = sorted.slice(0, place).find((one) => sameRecording(one, second));
      return first === undefined ? [] : [{ first, second }];
    });
  });
}

/** Each recording that is there twice. It may be taken for a second take, so a person must look. */
export function checkDuplicates(clips: readonly Clip[]): readonly Finding[] {
  return findDuplicates(clips).map(({ first, second }) =>
    raise({
      code: 'duplicate-clip',
      severity: 'warn',
      subject: [first, second],
      first,
      second,
      measured: { value: 2, unit: '' },
      allowed: { value: 1, unit: '' },
      evidence: [`${first.file}: ${sizeText(first)}`, `${second.file}: ${sizeText(second)}`],
    }),
  );
}

function sizeText({ sizeBytes, frames }: Clip): string {
  return `${frames ?? 'an unknown number of'} frames, ${sizeBytes} bytes`;
}
