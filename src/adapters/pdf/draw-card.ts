import type { RepeatCardContent } from '../../formats/sheet/card-content.ts';
import { MISSING_TITLE } from '../../formats/sheet/card-content.ts';
import { drawPart, partHeight } from './draw-card-part.ts';
import { fittingSize } from './draw-heading.ts';
import type { PageFlow, TextStyle } from './page-flow.ts';
import { INK, MARGIN, STYLES } from './page-flow.ts';

/** The card: the order in a black band, then what must be repeated and how exactly, in type for arm's length. */
export function drawCard(flow: PageFlow, card: RepeatCardContent): void {
  drawOrder(flow, card);
  const size = valueSize(flow, card);
  for (const part of card.sections) drawPart(flow, part, size);
  drawMissing(flow, card);
  for (const { text, style } of smallPrint(card)) {
    flow.paragraph(text, style);
    flow.y += 2;
  }
}

function drawOrder(flow: PageFlow, { title, show, name, beside, order, like }: RepeatCardContent): void {
  const section = flow.tag('Sect');
  const overline = flow.tag('P', section);
  flow.line(overline, `${title}${show === '' ? '' : ` · ${show}`}`, MARGIN, flow.y, { face: 'bold', size: 10, colour: flow.accent, leading: 13 });
  overline.end();
  flow.y += 12;
  const heading = flow.tag('H1', section);
  const size = fittingSize(flow, name, flow.width * 0.5, 42);
  flow.line(heading, name, MARGIN - 1, flow.y, { face: 'bold', size, colour: INK, leading: size * 1.15 });
  const left = MARGIN + Math.min(flow.width * 0.5, flow.type.width(name, 'bold', size)) + 14;
  const style = { face: 'regular', size: 12, colour: INK, leading: 15 } as const;
  const lines = flow.type.lines(beside, style.face, style.size, MARGIN + flow.width - left).slice(0, 2);
  lines.forEach((line, index) => flow.line(heading, line, left, flow.y + size * 1.15 - (lines.length - index) * style.leading - 2, style));
  heading.end();
  flow.y += size * 1.15 + 4;
  const orderSize = 24;
  const orders = flow.type.lines(order, 'bold', orderSize, flow.width - 28);
  const likes = flow.type.lines(like, 'regular', 12, flow.width - 28);
  const height = orders.length * 28 + likes.length * 15 + 16;
  flow.artifact((doc) => doc.rect(MARGIN, flow.y, flow.width, height).fill(INK));
  const tag = flow.tag('P', section);
  orders.forEach((line, index) => flow.line(tag, line, MARGIN + 14, flow.y + 6 + index * 28, { face: 'bold', size: orderSize, colour: '#ffffff', leading: 28 }));
  likes.forEach((line, index) => flow.line(tag, line, MARGIN + 14, flow.y + 8 + orders.length * 28 + index * 15, { face: 'regular', size: 12, colour: '#ffffff', leading: 15 }));
  tag.end();
  section.end();
  flow.y += height + 8;
}

const LARGEST = 20;
const SMALLEST = 8;

/** The largest type at which the whole card keeps to its page; smaller than 8 points nobody reads on a floor, so past that the marks run over. */
function valueSize(flow: PageFlow, card: RepeatCardContent): number {
  const print = smallPrint(card).reduce((sum, { text, style }) => sum + linesOf(flow, text, style).length * style.leading + 2, 0);
  const room = flow.bottom - flow.y - print - missingHeight(flow, card);
  for (let size = LARGEST; size > SMALLEST; size -= 0.5) {
    if (card.sections.reduce((sum, part) => sum + partHeight(flow, part, size), 0) <= room) return size;
  }
  return SMALLEST;
}

function linesOf(flow: PageFlow, text: string, { face, size }: TextStyle, width = flow.width): readonly string[] {
  return flow.type.lines(text, face, size, width);
}

const MISSING_TEXT = { face: 'regular', size: 11, colour: INK, leading: 13.5 } as const satisfies TextStyle;
const PADDING = 6;

/** "distance to background (without it ± of place is the tightest it can be); roll". */
function missingWords({ missing }: RepeatCardContent): string {
  return missing.map(({ what, why }) => (why === '' ? what : `${what} (${why})`)).join('; ');
}

function missingHeight(flow: PageFlow, card: RepeatCardContent): number {
  return card.missing.length === 0 ? 0 : linesOf(flow, missingWords(card), MISSING_TEXT, flow.width - 2 * PADDING).length * MISSING_TEXT.leading + 16 + 2 * PADDING + 5;
}

/** A box to be filled in by hand: what no paper says. */
function drawMissing(flow: PageFlow, card: RepeatCardContent): void {
  const height = missingHeight(flow, card);
  if (height === 0) return;
  flow.need(height);
  flow.artifact((doc) => doc.rect(MARGIN + 0.75, flow.y + 0.75, flow.width - 1.5, height - 6.5).lineWidth(1.5).stroke(INK));
  const tag = flow.tag('P');
  flow.line(tag, MISSING_TITLE, MARGIN + PADDING, flow.y + PADDING, { face: 'bold', size: 12, colour: INK, leading: 16 });
  linesOf(flow, missingWords(card), MISSING_TEXT, flow.width - 2 * PADDING).forEach((line, index) =>
    flow.line(tag, line, MARGIN + PADDING, flow.y + PADDING + 16 + index * MISSING_TEXT.leading, MISSING_TEXT));
  tag.end();
  flow.y += height;
}

interface Print {
  readonly text: string;
  readonly style: TextStyle;
}

/** What the ± mean, large enough to read; then what stands behind them. */
function smallPrint({ within, taken, sources }: RepeatCardContent): readonly Print[] {
  const behind = [taken.length === 0 ? '' : `Taken for granted: ${taken.join('; ')}.`, sources].filter((text) => text !== '').join('  ');
  return [
    ...(within.length === 0 ? [] : [{ text: within.join(' '), style: { ...STYLES.body, size: 9.5, leading: 12 } }]),
    ...(behind === '' ? [] : [{ text: behind, style: STYLES.note }]),
  ];
}
