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
  const alike = groupBy(clips.filter(({ usable }) => usable), likeness);
  return [...alike.values()].flatMap((group) => {
    const [first, ...others] = group.toSorted((a, b) => compareText(a.id, b.id));
    return first === undefined ? [] : others.filter((one) => sameRecording(first, one)).map((second) => ({ first, second }));
  });
}

/** Clips that are one recording share this; those that share it nearly always are. */
function likeness({ file, frames, start, sizeBytes }: Clip): string {
  return `${stemOf(file).normalize('NFC').toLowerCase()}|${frames}|${start === undefined ? `${sizeBytes} bytes` : start.frame}`;
}

/** A recording that is there twice. It may be taken for a second take, so a person must look. */
export function raiseDuplicate({ first, second }: Duplicate): Finding {
  return raise({
    code: 'duplicate-clip',
    severity: 'warn',
    subject: [first, second],
    first,
    second,
    measured: { value: 2, unit: '' },
    allowed: { value: 1, unit: '' },
    evidence: [`${first.file}: ${sizeText(first)}`, `${second.file}: ${sizeText(second)}`],
  });
}

function sizeText({ sizeBytes, frames }: Clip): string {
  return `${frames ?? 'an unknown number of'} frames, ${sizeBytes} bytes`;
}
