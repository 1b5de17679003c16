import type { CardFact, CardPart, RepeatCardContent } from '../../formats/sheet/repeat-card.ts';
import { fittingSize } from './draw-heading.ts';
import { drawTable, tableHeight } from './draw-table.ts';
import type { PageFlow, Tag, TextStyle } from './page-flow.ts';
import { FAINT, INK, MARGIN, STYLES } from './page-flow.ts';

const GAP = 16;

/** The card: the order in a black band, then what must be repeated, in type for arm's length. */
export function drawCard(flow: PageFlow, card: RepeatCardContent): void {
  drawOrder(flow, card);
  const size = valueSize(flow, card);
  for (const part of card.sections) drawPart(flow, part, size);
  if (card.sources !== '') {
    flow.y += 4;
    flow.paragraph(card.sources, STYLES.note);
  }
}

function drawOrder(flow: PageFlow, { title, show, name, beside, order, like }: RepeatCardContent): void {
  const section = flow.tag('Sect');
  const overline = flow.tag('P', section);
  flow.line(overline, `${title}${show === '' ? '' : ` · ${show}`}`, MARGIN, flow.y, { face: 'bold', size: 10, colour: flow.accent, leading: 13 });
  overline.end();
  flow.y += 14;
  const heading = flow.tag('H1', section);
  const size = fittingSize(flow, name, flow.width * 0.5, 46);
  flow.line(heading, name, MARGIN - 1, flow.y, { face: 'bold', size, colour: INK, leading: size * 1.15 });
  const left = MARGIN + Math.min(flow.width * 0.5, flow.type.width(name, 'bold', size)) + 14;
  const style = { face: 'regular', size: 12, colour: INK, leading: 15 } as const;
  const lines = flow.type.lines(beside, style.face, style.size, MARGIN + flow.width - left).slice(0, 2);
  lines.forEach((line, index) => flow.line(heading, line, left, flow.y + size * 1.15 - (lines.length - index) * style.leading - 2, style));
  heading.end();
  flow.y += size * 1.15 + 6;
  const orderSize = 24;
  const orders = flow.type.lines(order, 'bold', orderSize, flow.width - 28);
  const likes = flow.type.lines(like, 'regular', 12, flow.width - 28);
  const height = orders.length * 28 + likes.length * 15 + 18;
  flow.artifact((doc) => doc.rect(MARGIN, flow.y, flow.width, height).fill(INK));
  const tag = flow.tag('P', section);
  orders.forEach((line, index) => flow.line(tag, line, MARGIN + 14, flow.y + 7 + index * 28, { face: 'bold', size: orderSize, colour: '#ffffff', leading: 28 }));
  likes.forEach((line, index) => flow.line(tag, line, MARGIN + 14, flow.y + 9 + orders.length * 28 + index * 15, { face: 'regular', size: 12, colour: '#ffffff', leading: 15 }));
  tag.end();
  section.end();
  flow.y += height + 10;
}

const LARGEST = 20;
const SMALLEST = 10;
/** Up to this size four values stand side by side, above it three. */
const SMALL = 11;

/** The largest type at which the whole card keeps to its page; smaller than 10 points nobody reads on a floor, so past that the marks run over. */
function valueSize(flow: PageFlow, card: RepeatCardContent): number {
  const sources = flow.type.lines(card.sources, STYLES.note.face, STYLES.note.size, flow.width).length * STYLES.note.leading;
  const room = flow.bottom - flow.y - sources - 4;
  for (let size = LARGEST; size > SMALLEST; size -= 1) {
    const height = card.sections.reduce((sum, part) => sum + partHeight(flow, part, size), 0);
    if (height <= room) return size;
  }
  return SMALLEST;
}

const HEADING_HEIGHT = 24;

function partHeight(flow: PageFlow, part: CardPart, size: number): number {
  const rows = rowsOf(part, size).reduce((sum, row) => sum + rowHeight(flow, row, size), 0);
  return HEADING_HEIGHT + rows + (part.table === undefined ? 0 : tableHeight(flow, part.table));
}

/** More letters than this are too many for a third of the width. */
const LONG = 22;

type Row = { readonly facts: CardPart['facts']; readonly width: (flow: PageFlow) => number };

/** Facts side by side; one whose words are long has a line to itself. */
function rowsOf({ facts }: CardPart, size: number): readonly Row[] {
  const across = size <= SMALL ? 4 : 3;
  const rows: Row[] = [];
  let beside: CardPart['facts'] = [];
  const close = (): void => {
    if (beside.length > 0) rows.push({ facts: beside, width: (flow) => (flow.width - GAP * (across - 1)) / across });
    beside = [];
  };
  for (const fact of facts) {
    if (fact.value.length > LONG) {
      close();
      rows.push({ facts: [fact], width: (flow) => flow.width });
      continue;
    }
    beside = [...beside, fact];
    if (beside.length === across) close();
  }
  close();
  return rows;
}

function rowHeight(flow: PageFlow, { facts, width }: Row, size: number): number {
  return Math.max(...facts.map((fact) => valueLines(flow, fact, size, width(flow)).length)) * size * 1.2 + 14;
}

const MARK_WIDTH = 18;

function valueStyle({ known }: CardFact, size: number): TextStyle {
  return { face: known ? 'bold' : 'regular', size: known ? size : Math.min(size, 13), colour: known ? INK : FAINT, leading: size * 1.2 };
}

function valueLines(flow: PageFlow, fact: CardFact, size: number, width: number): readonly string[] {
  const style = valueStyle(fact, size);
  return flow.type.lines(fact.value, style.face, style.size, width - (fact.mark === undefined ? 0 : MARK_WIDTH));
}

function drawPart(flow: PageFlow, part: CardPart, size: number): void {
  const section = flow.tag('Sect');
  flow.rule(flow.y, flow.accent, 1.25);
  const heading = flow.tag('H2', section);
  flow.line(heading, part.heading, MARGIN, flow.y + 4, { face: 'bold', size: 10, colour: flow.accent, leading: 13 });
  heading.end();
  flow.y += 20;
  for (const row of rowsOf(part, size)) drawRow(flow, row, size, section);
  if (part.table !== undefined) drawTable(flow, part.table, section);
  section.end();
  flow.y += 4;
}

function drawRow(flow: PageFlow, row: Row, size: number, section: Tag): void {
  const height = rowHeight(flow, row, size);
  flow.need(height);
  row.facts.forEach((fact, index) => {
    const x = MARGIN + index * (row.width(flow) + GAP);
    const tag = flow.tag('P', section);
    flow.line(tag, fact.label, x, flow.y, { ...STYLES.label, size: 8 });
    const style = valueStyle(fact, size);
    const lines = valueLines(flow, fact, size, row.width(flow));
    lines.forEach((line, at) => flow.line(tag, line, x, flow.y + 9 + at * style.leading, style));
    if (fact.mark !== undefined) {
      const end = x + flow.type.width(lines.at(-1) ?? '', style.face, style.size) + 3;
      flow.line(tag, fact.mark, end, flow.y + 9 + (lines.length - 1) * style.leading, { ...STYLES.note, leading: style.leading });
    }
    tag.end();
  });
  flow.y += height;
}
