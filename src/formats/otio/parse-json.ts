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
    const quoted = quoteBareNumbers(text);
    if (quoted === text) throw failure;
    return JSON.parse(quoted);
  }
}

/** Walks the text once, so that no string in it, however long, costs more than its length. */
function quoteBareNumbers(text: string): string {
  const parts: string[] = [];
  let from = 0;
  let inString = false;
  for (let at = 0; at < text.length; at += 1) {
    const letter = text.charAt(at);
    if (inString) {
      if (letter === '\\') at += 1;
      else if (letter === '"') inString = false;
    } else if (letter === '"') {
      inString = true;
    } else if (letter === 'N' || letter === 'I' || letter === '-') {
      const word = BARE.exec(text.slice(at, at + 10))?.[0];
      if (word === undefined) continue;
      parts.push(text.slice(from, at), `"${word}"`);
      at += word.length - 1;
      from = at + 1;
    }
  }
  return parts.length === 0 ? text : parts.join('') + text.slice(from);
}
