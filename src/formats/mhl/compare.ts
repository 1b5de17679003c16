import type { ReadingProblem } from '../../core/material/finding.ts';
import type { Digests, HashFormat } from './hash-format.ts';
import { HASH_FORMATS } from './hash-format.ts';
import type { KnownFile } from './history.ts';

/** Formats to read a known file in so that every digest on record is held against it. */
export function trustedFormats({ trusted }: KnownFile): readonly HashFormat[] {
  return HASH_FORMATS.filter((format) => trusted.has(format));
}

/** Formats in which what was read differs from what is on record. */
export function differingFormats({ trusted }: KnownFile, digests: Digests): readonly HashFormat[] {
  return HASH_FORMATS.filter((format) => digests[format] !== undefined && trusted.has(format) && trusted.get(format)?.value !== digests[format]);
}

/** That a file is not what is on record. */
export function alteredFile(known: KnownFile, differing: readonly HashFormat[], read: { readonly sizeBytes: number; readonly digests: Digests }, file: string): ReadingProblem {
  const size = known.sizeBytes === undefined || known.sizeBytes === read.sizeBytes ? '' : `, ${known.sizeBytes} bytes`;
  const generation = Math.min(...differing.map((format) => known.trusted.get(format)?.generation ?? known.generation));
  return {
    code: 'file-altered', severity: 'stop', file, place: '',
    found: `${differing.map((format) => `${format} ${read.digests[format] ?? ''}`).join(', ')}${size === '' ? '' : `, ${read.sizeBytes} bytes`}`,
    expected: `${differing.map((format) => `${format} ${known.trusted.get(format)?.value ?? ''}`).join(', ')}${size} (generation ${generation})`,
    remedy: 'get this file again from where it came from, and keep that until the two agree',
  };
}

/** That a file on record is not there; `elsewhere` is where the same bytes lie, when only its name changed. */
export function missingFile(file: string, { generation }: { readonly generation: number }, elsewhere?: string): ReadingProblem {
  const renamed = elsewhere !== undefined;
  return {
    code: 'file-missing', severity: renamed ? 'warn' : 'stop', file, place: '',
    found: renamed ? `not there; the same bytes lie at ${elsewhere}` : 'not there',
    expected: `the file (generation ${generation})`,
    remedy: renamed ? 'give it its name back, or let its new name be recorded in a new generation' : 'get it again from where it came from',
  };
}

/** Whether a file or folder is one that operating systems leave behind wherever they look; `file` is relative to the scope. */
export function isClutter(file: string): boolean {
  const name = file.slice(file.lastIndexOf('/') + 1);
  return name.startsWith('._') || /^(thumbs\.db|desktop\.ini)$/i.test(name) || /^\.(Spotlight-V100|Trashes|fseventsd|TemporaryItems)(\/|$)/.test(file);
}

/** That a file is there which no generation names. */
export function extraFile(file: string, below: string): ReadingProblem {
  const clutter = isClutter(below);
  return {
    code: 'file-extra', severity: clutter ? 'note' : 'warn', file, place: '',
    found: clutter ? 'left behind by an operating system' : 'no generation names it', expected: 'only files that are on record',
    remedy: clutter ? 'nothing' : 'ask what it is; nothing vouches for it',
  };
}

/** Nothing on record that could be compared: digests of unknown formats only, or only failed ones. */
export function nothingToCompare(file: string, { generation }: KnownFile): ReadingProblem {
  return {
    code: 'manifest-invalid', severity: 'stop', file, place: '', found: `no digest that can be relied on (generation ${generation})`, expected: `one of ${HASH_FORMATS.join(', ')}, marked original or verified`,
    remedy: 'compare it with where it came from',
  };
}
