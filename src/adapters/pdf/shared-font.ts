import type { Font, GlyphRun } from 'fontkit';

/** Words kept shaped; past it all are let go, so that a day of long notes does not fill memory. */
const MOST_WORDS = 20_000;

/**
 * A parsed font that many documents can share. Shaping a word costs more than all else about it, so shaped words are kept.
 * fontkit keeps one glyph a shape, with the letters it was first met for; what one document printed would then change the bytes,
 * and the text copied out, of the next. So glyphs are kept here by shape and letters.
 */
export function sharedFont(font: Font): Font {
  const words = new Map<string, GlyphRun>();
  const glyphs = new Map<string, object>();
  const shared = Object.create(font, { _glyphs: { value: {}, writable: true } }) as Font & { _glyphs: object };
  shared.getGlyph = (id, letters = []) => {
    const key = `${id} ${letters.join(' ')}`;
    let glyph = glyphs.get(key);
    if (glyph === undefined) {
      shared._glyphs = {};
      glyph = font.getGlyph.call(shared, id, letters);
      glyphs.set(key, glyph);
    }
    return glyph;
  };
  const shape = (text: string): GlyphRun => {
    let run = words.get(text);
    if (run === undefined) {
      if (words.size >= MOST_WORDS) words.clear();
      run = font.layout.call(shared, text);
      words.set(text, run);
    }
    return run;
  };
  // pdfkit asks for a word with the space after it, whoever measures it without: one shaping serves both.
  shared.layout = (text) => ownCopy(text.length > 1 && text.endsWith(' ') ? [shape(text.slice(0, -1)), shape(' ')] : [shape(text)]);
  return shared;
}

/** pdfkit scales the positions it is given in place, so each document gets its own; widths follow from them. */
function ownCopy(runs: readonly GlyphRun[]): GlyphRun {
  const own = runs.flatMap(({ positions }) => positions.map((position) => ({ ...position })));
  return {
    glyphs: runs.flatMap(({ glyphs }) => glyphs),
    positions: own,
    get advanceWidth() {
      return own.reduce((sum, { xAdvance }) => sum + xAdvance, 0);
    },
  };
}
