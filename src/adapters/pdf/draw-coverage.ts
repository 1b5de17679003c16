import type { CoverageBar, CoverageDrawing } from '../../formats/sheet/content.ts';
import type { FrameRange } from '../../core/timecode/range.ts';
import { lastFrame, overlap } from '../../core/timecode/range.ts';
import type { Face } from './fonts.ts';
import type { PageFlow, Tag } from './page-flow.ts';
import { FAINT, INK, MARGIN, STYLES } from './page-flow.ts';
import type { Pdf } from './typesetter.ts';

const LABEL_WIDTH = 148;
const BAR = 11;
const TITLE_HEIGHT = 15;
const BAND_LABEL_HEIGHT = 11;
const SCALE_HEIGHT = 27;

interface BarLabel {
  readonly lines: readonly { readonly text: string; readonly face: Face }[];
  readonly height: number;
}

/** A to-scale drawing of one range: cut and handles as bands, the passes as bars, what is missing hatched, a scale in frames and timecode. */
export function drawCoverage(flow: PageFlow, drawing: CoverageDrawing, parent: Tag): void {
  const labels = drawing.bars.map((bar) => barLabel(flow, bar));
  const bars = labels.reduce((sum, { height }) => sum + height, 0);
  flow.need(coverageHeight(flow, drawing));
  const title = flow.tag('H3', parent);
  flow.line(title, drawing.title, MARGIN, flow.y, { ...STYLES.strong, size: 9 });
  title.end();
  flow.y += TITLE_HEIGHT;
  const x = xOf(drawing.span, MARGIN + LABEL_WIDTH, flow.width - LABEL_WIDTH);
  drawBandLabels(flow, drawing, x, parent);
  const top = flow.y;
  flow.artifact((doc) => drawBands(doc, drawing, x, top, bars));
  drawing.bars.forEach((bar, index) => {
    const label = labels[index] ?? { lines: [], height: 0 };
    const figure = flow.tag('Figure', parent, { alt: `${bar.label} ${bar.clip}: ${bar.words}` });
    figure.add(() => drawBar(flow.doc, bar, drawing, x, flow.y + 3, flow.accent));
    label.lines.forEach(({ text, face }, line) =>
      flow.line(figure, text, MARGIN, flow.y + line * STYLES.note.leading + 1, { ...STYLES.note, face, colour: face === 'bold' || bar.missing.length > 0 ? INK : FAINT }),
    );
    figure.end();
    flow.y += label.height;
  });
  drawScale(flow, drawing, x, parent);
  flow.y += SCALE_HEIGHT;
}

/** The height the whole drawing takes, points; it is never parted by a page's end. */
export function coverageHeight(flow: PageFlow, { bars }: CoverageDrawing): number {
  return TITLE_HEIGHT + BAND_LABEL_HEIGHT + SCALE_HEIGHT + bars.reduce((sum, bar) => sum + barLabel(flow, bar).height, 0);
}

function barLabel(flow: PageFlow, { label, clip, words }: CoverageBar): BarLabel {
  const set = (text: string, face: Face) => flow.type.lines(text, face, STYLES.note.size, LABEL_WIDTH - 10).map((line) => ({ text: line, face }));
  const lines = [...set(label, 'bold'), ...set(clip, 'regular'), ...set(words, 'regular')];
  return { lines, height: Math.max(BAR + 7, lines.length * STYLES.note.leading + 5) };
}

type ToX = (frame: number) => number;

/** Where the left edge of a frame stands. */
function xOf({ start, end }: FrameRange, left: number, width: number): ToX {
  return (frame) => left + ((Math.min(Math.max(frame, start), end) - start) / (end - start)) * width;
}

function drawBandLabels(flow: PageFlow, { cut, pull }: CoverageDrawing, x: ToX, parent: Tag): void {
  const tag = flow.tag('P', parent);
  const style = { ...STYLES.note, size: 6.5 } as const;
  const text = `cut ${framesOf(cut)}${pull.start === cut.start && pull.end === cut.end ? '' : `, with handles ${framesOf(pull)}`}`;
  const width = flow.type.width(text, style.face, style.size);
  const middle = (x(cut.start) + x(cut.end)) / 2;
  const left = Math.min(Math.max(middle - width / 2, MARGIN + LABEL_WIDTH), MARGIN + flow.width - width);
  flow.line(tag, text, left, flow.y, style);
  tag.end();
  flow.y += BAND_LABEL_HEIGHT;
}

/** "44–151": first and last frame, both in. */
function framesOf(range: FrameRange): string {
  return `${range.start}–${lastFrame(range)}`.replaceAll('-', '−');
}

function drawBands(doc: Pdf, { cut, pull }: CoverageDrawing, x: ToX, top: number, height: number): void {
  doc.rect(x(pull.start), top, x(pull.end) - x(pull.start), height).fill('#f3f4f5');
  doc.rect(x(cut.start), top, x(cut.end) - x(cut.start), height).fill('#e3e7ea');
  for (const frame of [pull.start, pull.end].filter((edge) => edge !== cut.start && edge !== cut.end)) doc.moveTo(x(frame), top).lineTo(x(frame), top + height);
  doc.lineWidth(0.5).dash(2, { space: 2 }).stroke(FAINT).undash();
  for (const frame of [cut.start, cut.end]) doc.moveTo(x(frame), top).lineTo(x(frame), top + height);
  doc.lineWidth(0.75).stroke(INK);
}

/** The lead is dark, the swapped pass half dark, others open; the label says which, so that none of it rests on the shade. */
function drawBar(doc: Pdf, bar: CoverageBar, { span }: CoverageDrawing, x: ToX, top: number, accent: string): void {
  const shown = overlap(bar.available, span);
  if (shown !== undefined) {
    const [left, width] = [x(shown.start), x(shown.end) - x(shown.start)];
    doc.rect(left, top, width, BAR);
    if (bar.role === 'lead') doc.fill(accent);
    else if (bar.role === 'swapped') doc.fillOpacity(0.45).fill(accent).fillOpacity(1);
    else doc.fill('#ffffff');
    doc.rect(left + 0.4, top + 0.4, Math.max(0.1, width - 0.8), BAR - 0.8).lineWidth(0.8).stroke(accent);
    if (bar.available.start < span.start) arrow(doc, left, top, -1);
    if (bar.available.end > span.end) arrow(doc, left + width, top, 1);
  }
  for (const { range, part } of bar.missing) {
    const missing = overlap(range, span);
    if (missing !== undefined) hatch(doc, x(missing.start), top, x(missing.end) - x(missing.start), part === 'cut' ? 3 : 5);
  }
}

/** The pass goes on beyond the edge of the drawing. */
function arrow(doc: Pdf, x: number, top: number, towards: 1 | -1): void {
  doc.polygon([x, top - 1], [x + towards * 5, top + BAR / 2], [x, top + BAR + 1]).fill(INK);
}

/** What is not there: crossed by lines, close where the cut itself is missing, wide where it is only a handle. */
function hatch(doc: Pdf, x: number, top: number, width: number, step: number): void {
  doc.rect(x, top, width, BAR).fill('#ffffff');
  doc.save().rect(x, top, width, BAR).clip();
  for (let at = x - BAR; at < x + width; at += step) doc.moveTo(at, top + BAR).lineTo(at + BAR, top);
  doc.lineWidth(step < 4 ? 1.1 : 0.6).stroke(INK).restore();
  doc.rect(x, top, width, BAR).lineWidth(1).stroke(INK);
}

function drawScale(flow: PageFlow, { ticks, span }: CoverageDrawing, x: ToX, parent: Tag): void {
  const top = flow.y;
  flow.artifact((doc) => {
    doc.moveTo(x(span.start), top).lineTo(x(span.end), top).lineWidth(0.75).stroke(INK);
    for (const { frame } of ticks) doc.moveTo(x(frame), top).lineTo(x(frame), top + 3);
    doc.lineWidth(0.5).stroke(INK);
  });
  const tag = flow.tag('P', parent);
  const style = { ...STYLES.note, size: 6 } as const;
  flow.line(tag, 'frame of the lead', MARGIN, top + 3, style);
  if (ticks.some(({ timecode }) => timecode !== '')) flow.line(tag, 'timecode of the lead', MARGIN, top + 11, style);
  let free = -Infinity;
  for (const { frame, label, timecode } of ticks) {
    const half = Math.max(...[label, timecode].map((text) => flow.type.width(text, style.face, style.size))) / 2;
    const middle = Math.min(x(frame), MARGIN + flow.width - half);
    if (middle - half < free) continue;
    free = middle + half + 3;
    [label, timecode].forEach((text, row) => flow.line(tag, text, middle - flow.type.width(text, style.face, style.size) / 2, top + 3 + row * 8, style));
  }
  tag.end();
}

