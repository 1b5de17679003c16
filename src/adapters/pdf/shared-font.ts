import type { Font, GlyphRun } from 'fontkit';

/** Words kept shaped; past it all are let go, so that a day of long notes does not fill memory. */
const MOST_WORDS = 20_000;

/**
 * A parsed font that many documents can share. Shaping a word costs more than all else about it, so shaped words are kept;
 * and glyphs are made anew for every word, since fontkit's own glyphs remember the letters they were first met for: what one
 * document printed would change the bytes, and the text copied out, of the next.
 */
export function sharedFont(font: Font): Font {
  const words = new Map<string, GlyphRun>();
  const shared = Object.create(font, { _glyphs: { value: {}, writable: true } }) as Font & { _glyphs: object };
  shared.getGlyph = (id, characters) => {
    shared._glyphs = {};
    return font.getGlyph.call(shared, id, characters);
  };
  shared.layout = (text) => {
    let run = words.get(text);
    if (run === undefined) {
      if (words.size >= MOST_WORDS) words.clear();
      run = font.layout.call(shared, text);
      words.set(text, run);
    }
    return ownCopy(run);
  };
  return shared;
}

/** pdfkit scales the positions it is given in place, so each document gets its own; widths follow from them. */
function ownCopy({ glyphs, positions }: GlyphRun): GlyphRun {
  const own = positions.map((position) => ({ ...position }));
  return {
    glyphs,
    positions: own,
    get advanceWidth() {
      return own.reduce((sum, { xAdvance }) => sum + xAdvance, 0);
    },
  };
}
