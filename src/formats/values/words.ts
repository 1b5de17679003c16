import { plainText } from './plain.ts';
import type { Reading } from './reading.ts';
import { BLANK, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';

/** A name or a remark: trimmed, white space made single, nothing else touched. */
export function readWords(text: string): Reading<string> {
  return isUnknown(text) ? BLANK : valueOf(text.replace(/[\s\uFEFF\0]+/g, ' ').trim());
}

/** A file name: white space within counts, since names may differ by nothing else. */
export function readFileName(text: string): Reading<string> {
  return isUnknown(text) ? BLANK : valueOf(text.trim());
}

/** A lens as written. Makers pad the name with spaces. */
export function readLensName(text: string): Reading<string> {
  return isUnknown(text) || plainText(text).toLowerCase() === 'none' ? BLANK : readWords(text);
}
