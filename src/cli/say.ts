import { visibleText } from '../formats/terminal/visible-text.ts';
import { withoutSecrets } from '../pipeline/without-secrets.ts';

/** Says something to the user, beside the results: what stands in it is text from files, so none of it may steer the terminal. */
export function say(line: string): void {
  const database = process.env['GEMEL_DATABASE'] ?? '';
  process.stderr.write(`gemel: ${visibleText(withoutSecrets(line, database))}\n`);
}

/** JSON as it may be printed: the same values, with what could steer a terminal or turn its writing direction as escapes. */
export function printableJson(json: string): string {
  return json.replace(/[\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/gu, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`);
}
