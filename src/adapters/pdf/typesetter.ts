import type { Font } from 'fontkit';
import type PDFDocument from 'pdfkit';
import { hexName, visibleText } from '../../formats/terminal/visible-text.ts';
import type { Face, FontLibrary } from './fonts.ts';

/** An open pdfkit document. Its types leave out `openImage`, whose answer can be given to `image` in place of the bytes. */
export type Pdf = InstanceType<typeof PDFDocument> & { openImage(bytes: Buffer): Buffer };

type FontName = Face | 'fallback';

/** Letters that are set in one font. */
interface Run {
  readonly font: FontName;
  readonly text: string;
}

/** What is printed for a letter no installed font has; a note says which they were. */
const NO_GLYPH = '▯';
/** A letter with its marks is never parted. */
const LETTERS = new Intl.Segmenter('en', { granularity: 'grapheme' });
/** Measured texts kept; past it all are let go. */
const MOST_WIDTHS = 50_000;
/** ASCII without controls: every face has it, so no letter need be looked up. */
const PLAIN = /^[ -~]*$/;

/** Measures, breaks and prints text in one document, taking a letter from another font where the face lacks it. */
export class Typesetter {
  readonly #doc: Pdf;
  readonly #library: FontLibrary;
  readonly #missing = new Set<number>();
  readonly #runs = new Map<string, readonly Run[]>();
  #fallback: Font | undefined;

  constructor(doc: Pdf, library: FontLibrary) {
    this.#doc = doc;
    this.#library = library;
    for (const face of ['regular', 'bold'] as const) register(doc, face, library.faces[face]);
  }

  /** Letters met so far that no installed font has, by code point. */
  get missingLetters(): readonly number[] {
    return [...this.#missing].toSorted((a, b) => a - b);
  }

  /** Width in points. */
  width(text: string, face: Face, size: number): number {
    let width = 0;
    for (const run of this.#runsOf(text, face)) {
      const words = run.text.split(' ');
      width += (words.length - 1) * this.#wordWidth(' ', run.font);
      for (const word of words) width += this.#wordWidth(word, run.font);
    }
    return width * size;
  }

  /** In parts of the size. */
  #wordWidth(word: string, name: FontName): number {
    const { widths, faces } = this.#library;
    const key = `${name} ${word}`;
    let width = widths.get(key);
    if (width === undefined) {
      if (widths.size >= MOST_WIDTHS) widths.clear();
      const font = name === 'fallback' ? this.#openFallback() : faces[name];
      width = font === undefined || word === '' ? 0 : font.layout(word).advanceWidth / font.unitsPerEm;
      widths.set(key, width);
    }
    return width;
  }

  /** Lines no wider than `width`, broken at spaces, and within a word that is wider itself; a line feed always breaks. */
  lines(text: string, face: Face, size: number, width: number): readonly string[] {
    return text.split('\n').flatMap((paragraph) => this.#paragraph(paragraph, face, size, width));
  }

  /** Prints one line; `baseline` is the y of the letters' feet. */
  line(text: string, x: number, baseline: number, face: Face, size: number, colour: string): void {
    let at = x;
    this.#doc.fillColor(colour);
    for (const run of this.#runsOf(visualOrder(text), face)) {
      this.#doc.font(run.font).fontSize(size).text(run.text, at, baseline, { lineBreak: false, baseline: 'alphabetic' });
      at += this.width(run.text, face, size);
    }
  }

  #paragraph(text: string, face: Face, size: number, width: number): readonly string[] {
    if (this.width(text, face, size) <= width) return [text];
    const space = this.width(' ', face, size);
    const lines: string[] = [];
    let line = '';
    let lineWidth = 0;
    for (const word of text.split(' ').flatMap((whole) => this.#pieces(whole, face, size, width))) {
      const wordWidth = this.width(word, face, size);
      if (line !== '' && lineWidth + space + wordWidth > width) {
        lines.push(line);
        line = '';
        lineWidth = 0;
      }
      lineWidth += (line === '' ? 0 : space) + wordWidth;
      line = line === '' ? word : `${line} ${word}`;
    }
    return [...lines, line];
  }

  /** A word in pieces that fit, broken after a sign people read as a joint where there is one in the second half. */
  #pieces(word: string, face: Face, size: number, width: number): readonly string[] {
    if (this.width(word, face, size) <= width) return [word];
    const letters = Array.from(LETTERS.segment(word), ({ segment }) => segment);
    const pieces: string[] = [];
    let from = 0;
    while (from < letters.length) {
      let end = from + 1;
      // Letter by letter, without the kerning between them: a hair too wide at worst.
      let room = width - this.width(letters[from] ?? '', face, size);
      while (end < letters.length && (room -= this.width(letters[end] ?? '', face, size)) >= 0) end += 1;
      const joint = end < letters.length ? lastJoint(letters, from, end) : end;
      pieces.push(letters.slice(from, joint).join(''));
      from = joint;
    }
    return pieces;
  }

  #runsOf(text: string, face: Face): readonly Run[] {
    const key = `${face} ${text}`;
    const known = this.#runs.get(key);
    if (known !== undefined) return known;
    const runs = PLAIN.test(text) ? [{ font: face, text }] : this.#split(text, face);
    this.#runs.set(key, runs);
    return runs;
  }

  #split(text: string, face: Face): readonly Run[] {
    const runs: { font: FontName; text: string }[] = [];
    for (const letter of visibleText(text, hexName)) {
      const [font, shown] = this.#fontOf(letter, face);
      const last = runs.at(-1);
      if (last?.font === font) last.text += shown;
      else runs.push({ font, text: shown });
    }
    return runs;
  }

  #fontOf(letter: string, face: Face): readonly [FontName, string] {
    const code = letter.codePointAt(0) ?? 0;
    if (this.#library.faces[face].hasGlyphForCodePoint(code)) return [face, letter];
    const fallback = this.#openFallback();
    if (fallback?.hasGlyphForCodePoint(code) === true) return ['fallback', letter];
    this.#missing.add(code);
    return [face, NO_GLYPH];
  }

  #openFallback(): Font | undefined {
    if (this.#fallback === undefined) {
      this.#fallback = this.#library.fallback();
      if (this.#fallback !== undefined) register(this.#doc, 'fallback', this.#fallback);
    }
    return this.#fallback;
  }
}

/** pdfkit takes a parsed font as it takes a file; only its types do not say so. */
function register(doc: Pdf, name: FontName, font: Font): void {
  doc.registerFont(name, font as unknown as Uint8Array);
}

const RIGHT_TO_LEFT = /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]/;

/** Words of right-to-left scripts stand from the right: within a word the font's shaping sees to it, between words nobody would. */
function visualOrder(line: string): string {
  if (!RIGHT_TO_LEFT.test(line)) return line;
  const ordered: string[] = [];
  let group = 0;
  for (const word of line.split(' ')) {
    if (RIGHT_TO_LEFT.test(word)) ordered.splice(group, 0, word);
    else group = ordered.push(word);
  }
  return ordered.join(' ');
}

function lastJoint(letters: readonly string[], from: number, end: number): number {
  for (let at = end; at > from + (end - from) / 2; at -= 1) if (/[/_.\-:,;]/.test(letters[at - 1] ?? '')) return at;
  return end;
}
