import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import { stemOf } from './passes.ts';
import { raise } from './raise.ts';
import { compareText } from './severity.ts';

/** One recording that lies in the folders twice; `second` is the one to leave out. */
export interface Duplicate {
  readonly first: Clip;
  readonly second: Clip;
}

/**
 * Clips that are one recording: same name (extension and folder aside), same timecode and same length. Without timecode the
 * size must be the same too.
 */
export function findDuplicates(clips: readonly Clip[]): readonly Duplicate[] {
  const first = new Map<string, Clip>();
  const found: Duplicate[] = [];
  for (const clip of clips.filter(({ usable }) => usable).toSorted((a, b) => compareText(a.id, b.id))) {
    const { format, frame } = clip.start ?? {};
    const clock = format === undefined ? `${clip.sizeBytes} bytes` : `${frame} ${format.base} ${format.drop}`;
    const key = [stemOf(clip.file).normalize('NFC').toLowerCase(), clip.frames ?? '', clock].join('\u0000');
    const twin = first.get(key);
    if (twin === undefined) first.set(key, clip);
    else found.push({ first: twin, second: clip });
  }
  return found;
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
