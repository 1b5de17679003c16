/** Longest word that stands for a number JSON has not: "-Infinity". */
const LONGEST = 10;

/**
 * JSON text in which words that stand outside strings and fit `word` (anchored at its start) are written otherwise. Walks the text once: an
 * expression that skips strings would begin anew at every quotation mark of a broken one.
 */
export function rewriteBareNumbers(text: string, word: RegExp, written: (found: string) => string): string {
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
    } else if ('NnIi-'.includes(letter)) {
      const found = word.exec(text.slice(at, at + LONGEST))?.[0];
      if (found === undefined) continue;
      parts.push(text.slice(from, at), written(found));
      at += found.length - 1;
      from = at + 1;
    }
  }
  return parts.length === 0 ? text : parts.join('') + text.slice(from);
}
