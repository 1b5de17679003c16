import type { ReadClip } from '../../core/material/clip.ts';
import type { FindingCode, ReadingProblem, Severity } from '../../core/material/finding.ts';
import { UnreachableFileError } from '../../core/material/errors.ts';

/** What is wrong with a file as a whole. */
export function fileProblem(file: string, code: FindingCode, severity: Severity, words: Pick<ReadingProblem, 'found' | 'expected' | 'remedy'>): ReadingProblem {
  return { code, severity, file, place: '', ...words };
}

/** Why a file could not be opened or read, in words, and what to do. */
export function explain(failure: unknown): { readonly found: string; readonly remedy: string } {
  if (failure instanceof UnreachableFileError) return { found: failure.reason, remedy: failure.remedy };
  const found = failure instanceof Error ? failure.message : String(failure);
  return { found, remedy: 'copy it again from the card or from another copy; erase nothing until it reads' };
}

/** A clip of which nothing could be read: it is listed with the reason, never matched. */
export function unreadableClip(file: string, kind: ReadClip['kind'], sizeBytes: number, failure: unknown): ReadClip {
  const { found, remedy } = explain(failure);
  return {
    file,
    kind,
    statements: [],
    tracks: [],
    complete: null,
    completeness: found,
    sizeBytes,
    decodable: false,
    problems: [fileProblem(file, 'unreadable-clip', 'stop', { found, expected: 'a clip that can be read', remedy })],
    usable: false,
  };
}

/** Problems that speak of a clip being cut off, which a clip that is still arriving is bound to be. */
const OF_THE_END: readonly FindingCode[] = ['truncated-clip', 'unreadable-clip', 'still-growing'];

/** The same clip, known to be still growing: listed, never matched until it has come to rest. */
export function growingClip(clip: ReadClip, why: string): ReadClip {
  const growing = fileProblem(clip.file, 'still-growing', 'warn', {
    found: why,
    expected: 'a clip that has come to rest',
    remedy: 'wait until the copy or the recording has ended, then run again',
  });
  const others = clip.problems.filter(({ code }) => !OF_THE_END.includes(code));
  return { ...clip, complete: false, completeness: why, usable: false, problems: [growing, ...others] };
}
