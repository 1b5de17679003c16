/** Columns a terminal gives the text: 0 for combining marks, 2 for East Asian wide characters and emoji, else 1. */
export function displayWidth(text: string): number {
  let width = 0;
  for (const character of text) width += characterWidth(character);
  return width;
}

/** Ranges the Unicode East Asian Width table (UAX #11) calls wide or fullwidth, coarsely; emoji among them. */
const WIDE = /[\u1100-\u115f\u2e80-\u303e\u3041-\ua4cf\ua960-\ua97c\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff01-\uff60\uffe0-\uffe6\u{1f300}-\u{1f64f}\u{1f680}-\u{1f6ff}\u{1f900}-\u{1f9ff}\u{20000}-\u{3fffd}]/u;
const NO_WIDTH = /\p{Mn}|\p{Me}|\u200c|\u200d/u;

function characterWidth(character: string): number {
  if (character < '\u0300') return 1;
  if (NO_WIDTH.test(character)) return 0;
  return WIDE.test(character) ? 2 : 1;
}

/** The text with spaces after it (before it when `right`) up to the width; longer text stays as it is. */
export function pad(text: string, width: number, right = false): string {
  const space = ' '.repeat(Math.max(0, width - displayWidth(text)));
  return right ? space + text : text + space;
}

/** Lines no wider than `width`, broken at spaces; a word wider than a line is broken within. At least one line, perhaps empty. */
export function wrap(text: string, width: number): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ').flatMap((whole) => pieces(whole, Math.max(1, width)))) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (displayWidth(longer) <= width) {
      line = longer;
      continue;
    }
    if (line !== '') lines.push(line);
    line = word;
  }
  return [...lines, line];
}

/** A word in pieces that fit; a mark stays with the letter it stands on. */
function pieces(word: string, width: number): readonly string[] {
  if (displayWidth(word) <= width) return [word];
  const found: string[] = [];
  let piece = '';
  for (const character of word) {
    if (piece !== '' && displayWidth(piece) + characterWidth(character) > width) {
      found.push(piece);
      piece = '';
    }
    piece += character;
  }
  return [...found, piece];
}
