import { rewriteBareNumbers } from '../values/bare-numbers.ts';

/** Numbers that JSON has not, but OpenTimelineIO files carry. Each becomes a text of its own name, which is no number. */
const BARE = /^-?(?:NaN|Infinity|Inf)\b/u;

/**
 * JSON that may carry NaN and infinities as bare words: those become texts.
 * @throws {SyntaxError} when it is no JSON even then.
 */
export function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (failure) {
    const quoted = rewriteBareNumbers(text, BARE, (word) => `"${word}"`);
    if (quoted === text) throw failure;
    return JSON.parse(quoted);
  }
}
