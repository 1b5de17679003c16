/** The known word somebody most likely meant: one that begins the same, or is at most two letters off. Undefined when none is near. */
export function nearestWord(written: string, known: readonly string[]): string | undefined {
  if (written === '') return undefined;
  const near = known.map((word) => ({ word, off: lettersOff(written, word) })).toSorted((a, b) => a.off - b.off)[0];
  if (near !== undefined && near.off <= 2) return near.word;
  return known.find((word) => word.startsWith(written));
}

/** Letters to change, add or take out to get from one word to the other (Levenshtein). */
function lettersOff(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (const [index, letter] of Array.from(a).entries()) {
    const next = [index + 1];
    for (const [column, other] of Array.from(b).entries()) {
      next.push(Math.min((row[column + 1] ?? 0) + 1, (next[column] ?? 0) + 1, (row[column] ?? 0) + (letter === other ? 0 : 1)));
    }
    row = next;
  }
  return row[b.length] ?? 0;
}
