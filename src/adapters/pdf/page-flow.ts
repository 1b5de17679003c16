import type { Paper } from '../../formats/sheet/content.ts';
import type { Face } from './fonts.ts';
import type { Pdf, Typesetter } from './typesetter.ts';

/** Points: A4 is 210 × 297 mm (ISO 216), Letter 8.5 × 11 in. */
const PAPERS: Readonly<Record<Paper, readonly [number, number]>> = { A4: [595.28, 841.89], Letter: [612, 792] };

export const INK = '#16191c';
export const FAINT = '#5b6369';
export const RULE = '#c9ced2';
export const MARGIN = 40;
const FOOT = 62;

/** How a piece of text looks. `leading` is from baseline to baseline, points. */
export interface TextStyle {
  readonly face: Face;
  readonly size: number;
  readonly colour: string;
  readonly leading: number;
}

/** The few sizes a page is set in. */
export const STYLES = {
  body: { face: 'regular', size: 8.5, colour: INK, leading: 11.5 },
  strong: { face: 'bold', size: 8.5, colour: INK, leading: 11.5 },
  faint: { face: 'regular', size: 7.5, colour: FAINT, leading: 10 },
  note: { face: 'regular', size: 7, colour: FAINT, leading: 9 },
  label: { face: 'bold', size: 7, colour: FAINT, leading: 9.5 },
} as const satisfies Readonly<Record<string, TextStyle>>;

/** An element of the document's structure, for readers who do not see the page. */
export type Tag = ReturnType<Pdf['struct']>;

/** One column of text down the pages of a document, with its structure and where the next thing goes. */
export class PageFlow {
  readonly doc: Pdf;
  readonly type: Typesetter;
  readonly accent: string;
  readonly width: number;
  readonly bottom: number;
  readonly root: Tag;
  y = MARGIN;
  readonly #size: readonly [number, number];

  constructor(doc: Pdf, type: Typesetter, paper: Paper, accent: string) {
    this.doc = doc;
    this.type = type;
    this.accent = accent;
    this.#size = PAPERS[paper];
    this.width = this.#size[0] - 2 * MARGIN;
    this.bottom = this.#size[1] - FOOT;
    this.root = doc.struct('Document', {});
    doc.addStructure(this.root);
    this.newPage();
  }

  /** Height of a page's column of text. */
  get pageHeight(): number {
    return this.bottom - MARGIN;
  }

  newPage(): void {
    this.doc.addPage({ size: [...this.#size], margin: 0 });
    this.y = MARGIN;
  }

  /** Goes to a new page when less than `height` is left on this one. */
  need(height: number): void {
    if (this.y + height > this.bottom) this.newPage();
  }

  /** A new element under `parent`; end it when all is in it. */
  tag(type: string, parent: Tag = this.root, options: { readonly alt?: string } = {}): Tag {
    const tag = this.doc.struct(type, { ...options });
    parent.add(tag);
    return tag;
  }

  /** Rules, boxes and grounds: seen, never read out. */
  artifact(draw: (doc: Pdf) => void): void {
    this.doc.markContent('Artifact', { type: 'Layout' });
    draw(this.doc);
    this.doc.endMarkedContent();
  }

  rule(y: number, colour = RULE, thickness = 0.5, x = MARGIN, width = this.width): void {
    this.artifact((doc) => doc.moveTo(x, y).lineTo(x + width, y).lineWidth(thickness).stroke(colour));
  }

  /** One line of text at a place; `top` is where its line box begins. */
  line(tag: Tag, text: string, x: number, top: number, style: TextStyle): void {
    tag.add(() => this.type.line(text, x, top + style.leading * 0.5 + style.size * 0.36, style.face, style.size, style.colour));
  }

  /** A paragraph down the column, over as many pages as it takes. */
  paragraph(text: string, style: TextStyle, parent: Tag = this.root, x = MARGIN, width = this.width): void {
    const tag = this.tag('P', parent);
    for (const line of this.type.lines(text, style.face, style.size, width)) {
      this.need(style.leading);
      this.line(tag, line, x, this.y, style);
      this.y += style.leading;
    }
    tag.end();
  }
}
