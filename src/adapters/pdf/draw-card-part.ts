import type { CardFact, CardMark, CardPart } from '../../formats/sheet/card-content.ts';
import type { PageFlow, Tag, TextStyle } from './page-flow.ts';
import { INK, MARGIN, STYLES } from './page-flow.ts';

const GAP = 16;
const HEADING_HEIGHT = 17;
const AFTER = 3;
/** Columns of the page: two, and three of them in small type. */
const acrossOf = (size: number): number => (size < 12 ? 3 : 2);
/** Where a value begins, behind its label. */
const LABEL_WIDTH = 84;

/** Height of a part with values of this size, points. */
export function partHeight(flow: PageFlow, { facts, marks, remark }: CardPart, size: number): number {
  const rows = rowsOf(flow, facts, size).reduce((sum, row) => sum + rowHeight(flow, row, size), 0);
  return HEADING_HEIGHT + rows + (marks ?? []).reduce((sum, mark) => sum + markHeight(flow, mark, size), 0) + remarkLines(flow, remark).length * REMARK.leading + AFTER;
}

/** A rule, a heading, the values side by side, the marks one below the other. */
export function drawPart(flow: PageFlow, part: CardPart, size: number): void {
  const section = flow.tag('Sect');
  flow.need(HEADING_HEIGHT + 30);
  flow.rule(flow.y, flow.accent, 1.25);
  const heading = flow.tag('H2', section);
  flow.line(heading, part.heading, MARGIN, flow.y + 3, { face: 'bold', size: 10.5, colour: flow.accent, leading: 13 });
  heading.end();
  flow.y += HEADING_HEIGHT;
  for (const row of rowsOf(flow, part.facts, size)) drawRow(flow, row, size, section);
  for (const mark of part.marks ?? []) drawMark(flow, mark, size, section);
  if (part.remark !== undefined) flow.paragraph(part.remark, REMARK, section);
  section.end();
  flow.y += AFTER;
}

const REMARK = { face: 'bold', size: 10, colour: INK, leading: 13 } as const satisfies TextStyle;

function remarkLines(flow: PageFlow, remark: string | undefined): readonly string[] {
  return remark === undefined ? [] : flow.type.lines(remark, REMARK.face, REMARK.size, flow.width);
}

/** A fact in its row: `start` and `span` in columns of the page. */
interface Placed {
  readonly fact: CardFact;
  readonly start: number;
  readonly span: number;
}

type Row = readonly Placed[];

/** Facts side by side in the columns of the page; one that needs more room takes more of them. */
function rowsOf(flow: PageFlow, facts: readonly CardFact[], size: number): readonly Row[] {
  const rows: Placed[][] = [];
  const across = acrossOf(size);
  let used = across;
  for (const fact of facts) {
    const span = spanOf(flow, fact, size);
    if (used + span > across) {
      rows.push([]);
      used = 0;
    }
    rows.at(-1)?.push({ fact, start: used, span });
    used += span;
  }
  return rows;
}

/** As many columns as keep value and ± on one line, and the rest on one more. */
function spanOf(flow: PageFlow, { value, tolerance, also }: CardFact, size: number): number {
  const { big, beside, below } = stylesOf(size);
  const across = acrossOf(size);
  const first = flow.type.width(value, big.face, big.size) + (tolerance === undefined ? 0 : size * 0.4 + flow.type.width(tolerance, beside.face, beside.size));
  const room = Math.max(first, flow.type.width(also ?? '', below.face, below.size)) + LABEL_WIDTH;
  for (let span = 1; span < across; span += 1) if (room <= widthOf(flow, span, size)) return span;
  return across;
}

function columnWidth(flow: PageFlow, size: number): number {
  return (flow.width - GAP * (acrossOf(size) - 1)) / acrossOf(size);
}

function widthOf(flow: PageFlow, span: number, size: number): number {
  return columnWidth(flow, size) * span + GAP * (span - 1);
}

/** Value, its ± beside it, what stands below, and the label. */
function stylesOf(size: number): { readonly big: TextStyle; readonly beside: TextStyle; readonly below: TextStyle; readonly name: TextStyle } {
  const leading = size * 1.18;
  return {
    big: { face: 'bold', size, colour: INK, leading },
    beside: { face: 'regular', size: Math.max(8, size * 0.74), colour: INK, leading },
    below: { face: 'regular', size: Math.max(8, size * 0.58), colour: INK, leading: Math.max(10, size * 0.72) },
    name: { face: 'regular', size: Math.min(10, size), colour: INK, leading: 11.5 },
  };
}

/** A piece of a cell at its place, from the cell's corner. */
interface Piece {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly style: TextStyle;
}

/** Label, value, its ± behind it, and what else there is to say: behind them where it fits, else below. */
function cellPieces(flow: PageFlow, { label, value, tolerance, also, mark }: CardFact, size: number, width: number): { readonly pieces: readonly Piece[]; readonly height: number } {
  const { big, beside, below, name } = stylesOf(size);
  const room = width - LABEL_WIDTH;
  const lines = flow.type.lines(value, big.face, big.size, room);
  const pieces: Piece[] = lines.map((text, index) => ({ text, x: LABEL_WIDTH, y: index * big.leading, style: big }));
  let y = lines.length * big.leading;
  let end = flow.type.width(lines.at(-1) ?? '', big.face, big.size);
  const put = (text: string, style: TextStyle): void => {
    const gap = size * 0.4;
    const textWidth = flow.type.width(text, style.face, style.size);
    if (end + gap + textWidth <= room) {
      // On the value's own base line: the smaller type would otherwise ride up.
      pieces.push({ text, x: LABEL_WIDTH + end + gap, y: y - big.leading + 0.36 * (size - style.size), style: { ...style, leading: big.leading } });
      end += gap + textWidth;
      return;
    }
    end = room;
    for (const line of flow.type.lines(text, below.face, below.size, room)) {
      pieces.push({ text: line, x: LABEL_WIDTH, y: (y += below.leading) - below.leading, style: below });
    }
  };
  if (tolerance !== undefined) put(tolerance, beside);
  if (also !== undefined) put(also, below);
  const labels = flow.type.lines(label, name.face, name.size, LABEL_WIDTH - 6);
  labels.forEach((text, index) => pieces.push({ text, x: 0, y: 0.36 * (size - name.size) + (big.leading - name.leading) / 2 + index * name.leading, style: name }));
  if (mark !== undefined) pieces.push({ text: mark, x: flow.type.width(labels.at(-1) ?? '', name.face, name.size) + 2, y: (labels.length - 1) * name.leading + 0.2 * size, style: { ...STYLES.note, leading: big.leading - 4 } });
  return { pieces, height: Math.max(y, labels.length * name.leading) + size * 0.16 };
}

function rowHeight(flow: PageFlow, row: Row, size: number): number {
  return Math.max(...row.map(({ fact, span }) => cellPieces(flow, fact, size, widthOf(flow, span, size)).height));
}

function drawRow(flow: PageFlow, row: Row, size: number, section: Tag): void {
  const height = rowHeight(flow, row, size);
  flow.need(height);
  for (const { fact, start, span } of row) drawPieces(flow, cellPieces(flow, fact, size, widthOf(flow, span, size)).pieces, MARGIN + start * (columnWidth(flow, size) + GAP), section);
  flow.y += height;
}

function drawPieces(flow: PageFlow, pieces: readonly Piece[], x: number, section: Tag): void {
  const tag = flow.tag('P', section);
  for (const piece of pieces) flow.line(tag, piece.text, x + piece.x, flow.y + piece.y, piece.style);
  tag.end();
}

/** The mark's name and its time, large; below them where the camera is, where it looks and what is sharp. */
function markPieces(flow: PageFlow, { name, time, also, values }: CardMark, size: number): { readonly pieces: readonly Piece[]; readonly height: number } {
  const big: TextStyle = { face: 'bold', size: size * 0.8, colour: INK, leading: size * 0.98 };
  const { below: small } = stylesOf(size);
  const column = flow.width * 0.42;
  const names = flow.type.lines(name, big.face, big.size, column - GAP);
  const pieces: Piece[] = names.map((text, index) => ({ text, x: 0, y: index * big.leading, style: big }));
  pieces.push({ text: time, x: column, y: 0, style: big });
  const alsoX = column + flow.type.width(time, big.face, big.size) + 8;
  const alsoLines = flow.type.lines(also, small.face, small.size, flow.width - alsoX);
  alsoLines.forEach((text, index) => pieces.push({ text, x: alsoX, y: 0.36 * (big.size - small.size) + (big.leading - small.leading) / 2 + index * small.leading, style: small }));
  let y = Math.max(names.length * big.leading, big.leading + (alsoLines.length - 1) * small.leading);
  for (const text of flow.type.lines(values.join('    '), small.face, small.size, flow.width)) {
    pieces.push({ text, x: 0, y, style: small });
    y += small.leading;
  }
  return { pieces, height: y + size * 0.2 };
}

function markHeight(flow: PageFlow, mark: CardMark, size: number): number {
  return markPieces(flow, mark, size).height;
}

function drawMark(flow: PageFlow, mark: CardMark, size: number, section: Tag): void {
  const { pieces, height } = markPieces(flow, mark, size);
  flow.need(height);
  drawPieces(flow, pieces, MARGIN, section);
  flow.y += height;
}
