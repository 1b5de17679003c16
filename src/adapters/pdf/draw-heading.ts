import type { Verdict } from '../../core/checks/judged.ts';
import type { Fact, SheetHeading, VerdictWords } from '../../formats/sheet/content.ts';
import type { PageFlow, Tag } from './page-flow.ts';
import { INK, MARGIN, STYLES } from './page-flow.ts';
import type { Pdf } from './typesetter.ts';

const BOX_WIDTH = 188;
const BOX_HEIGHT = 78;

/** The top of a sheet: whose it is, which set, the verdict to be read at arm's length, and the facts in brief. */
export function drawHeading(flow: PageFlow, heading: SheetHeading): void {
  const section = flow.tag('Sect');
  const top = flow.y;
  drawVerdictBox(flow, heading.verdict, top, section);
  const left = flow.width - BOX_WIDTH - 16;
  drawName(flow, heading, section, left);
  flow.y = Math.max(flow.y, top + BOX_HEIGHT) + 10;
  flow.paragraph(sentence(heading.verdict.reason), { ...STYLES.strong, size: 11, leading: 15 }, section);
  flow.y += 6;
  drawFacts(flow, heading.facts, section);
  section.end();
  flow.y += 6;
}

function drawName(flow: PageFlow, { title, show, name, beside }: SheetHeading, section: Tag, width: number): void {
  const overline = flow.tag('P', section);
  flow.line(overline, `${title}${show === '' ? '' : ` · ${show}`}`, MARGIN, flow.y, { face: 'bold', size: 9, colour: flow.accent, leading: 12 });
  overline.end();
  flow.y += 12;
  const size = fittingSize(flow, name, width, 40);
  const big = flow.tag('H1', section);
  for (const line of flow.type.lines(name, 'bold', size, width)) {
    flow.line(big, line, MARGIN - 1, flow.y, { face: 'bold', size, colour: INK, leading: size * 1.2 });
    flow.y += size * 1.2;
  }
  if (beside !== '') {
    flow.line(big, beside, MARGIN, flow.y, { face: 'regular', size: 13, colour: INK, leading: 16 });
    flow.y += 16;
  }
  big.end();
}

/** The largest size, at most `most`, at which the text keeps to one line, but no smaller than 16 points. */
export function fittingSize(flow: PageFlow, text: string, width: number, most: number): number {
  return Math.min(most, Math.max(16, (width / flow.type.width(text, 'bold', 1000)) * 1000));
}

const SIGN_WIDTH = 48;

/** NO is white on black, LOOK black on white in a hatched frame, YES in a plain one: told apart without colour, and without reading. */
function drawVerdictBox(flow: PageFlow, { verdict, question, answer }: VerdictWords, top: number, section: Tag): void {
  const x = MARGIN + flow.width - BOX_WIDTH;
  flow.artifact((doc) => drawGround(doc, verdict, x, top, BOX_WIDTH, BOX_HEIGHT));
  const colour = verdict === 'no' ? '#ffffff' : INK;
  const tag = flow.tag('P', section);
  flow.line(tag, question.toUpperCase(), x + 16, top + 11, { face: 'bold', size: 9, colour, leading: 12 });
  // The sign stands at the right edge.
  const size = fittingSize(flow, answer, BOX_WIDTH - 32 - SIGN_WIDTH, 40);
  flow.line(tag, answer, x + 15, top + 24, { face: 'bold', size, colour, leading: 46 });
  tag.end();
  flow.artifact((doc) => drawSign(doc, verdict, x + BOX_WIDTH - SIGN_WIDTH / 2 - 12, top + BOX_HEIGHT / 2 + 8, colour));
}

function drawGround(doc: Pdf, verdict: Verdict, x: number, y: number, width: number, height: number): void {
  if (verdict === 'no') {
    doc.rect(x, y, width, height).fill(INK);
    return;
  }
  if (verdict === 'look') {
    doc.save().rect(x, y, width, height).clip();
    for (let at = x - height; at < x + width; at += 6) doc.moveTo(at, y + height).lineTo(at + height, y);
    doc.lineWidth(1.6).stroke(INK).restore();
    doc.rect(x + 6, y + 6, width - 12, height - 12).fill('#ffffff');
  }
  doc.rect(x + 1, y + 1, width - 2, height - 2).lineWidth(2).stroke(INK);
}

/** A cross, a question, a tick: the verdict again, drawn. */
function drawSign(doc: Pdf, verdict: Verdict, x: number, y: number, colour: string): void {
  const r = 12;
  doc.lineWidth(4.5).lineCap('butt');
  if (verdict === 'no') doc.moveTo(x - r, y - r).lineTo(x + r, y + r).moveTo(x - r, y + r).lineTo(x + r, y - r).stroke(colour);
  else if (verdict === 'yes') doc.moveTo(x - r, y).lineTo(x - r / 3, y + r * 0.8).lineTo(x + r, y - r).stroke(colour);
  else {
    doc.circle(x, y, r).lineWidth(3).stroke(colour);
    doc.circle(x, y, 4).fill(colour);
  }
}

const FACT_LABEL_WIDTH = 52;

/** Label and value pairs in two columns, read across. */
function drawFacts(flow: PageFlow, facts: readonly Fact[], section: Tag): void {
  const half = flow.width / 2;
  for (let index = 0; index < facts.length; index += 2) {
    const heights = facts.slice(index, index + 2).map(({ label, value }, column) => {
      const x = MARGIN + column * half;
      const tag = flow.tag('P', section);
      flow.line(tag, label, x, flow.y, { ...STYLES.label, leading: STYLES.body.leading });
      const lines = flow.type.lines(value, 'regular', STYLES.body.size, half - FACT_LABEL_WIDTH - 12);
      lines.forEach((line, at) => flow.line(tag, line, x + FACT_LABEL_WIDTH, flow.y + at * STYLES.body.leading, { ...STYLES.body, colour: INK }));
      tag.end();
      return lines.length * STYLES.body.leading;
    });
    flow.y += Math.max(...heights) + 2;
  }
}

const HEADING_HEIGHT = 32;

/** A heading over a section. `firstHeight` is the room its first block needs, so that a heading never stands alone at a page's foot. */
export function drawSectionHeading(flow: PageFlow, heading: string, firstHeight: number, section: Tag): void {
  flow.need(HEADING_HEIGHT + firstHeight);
  flow.y += 8;
  flow.rule(flow.y, flow.accent, 1.25);
  flow.y += 5;
  const tag = flow.tag('H2', section);
  flow.line(tag, heading, MARGIN, flow.y, { face: 'bold', size: 11, colour: flow.accent, leading: 15 });
  tag.end();
  flow.y += 19;
}

/** First letter large, a full stop at the end: a reason stands here as a sentence. */
function sentence(text: string): string {
  const begun = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?…]$/.test(begun) || begun === '' ? begun : `${begun}.`;
}

