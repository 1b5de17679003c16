import { assert } from '../../core/material/errors.ts';
import { base64 } from './base64.ts';
import { sha256 } from './sha256.ts';

/** How a Content-Security-Policy names one inline script, and no other: `'sha256-…'` (CSP Level 3, section 2.3.1). @throws when the script is not plain ASCII, whose bytes need no encoding. */
export function scriptSource(script: string): string {
  const bytes = Uint8Array.from(script, (letter) => letter.charCodeAt(0));
  assert(bytes.every((byte, index) => byte < 0x80 && byte === script.charCodeAt(index)), 'a script of the board is not ASCII');
  return `'sha256-${base64(sha256(bytes))}'`;
}
