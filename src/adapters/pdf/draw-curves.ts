import type { CurveDot, CurveLine, CurvePanel, CurvePlot } from '../../formats/sheet/content.ts';
import type { PageFlow, Tag } from './page-flow.ts';
import { FAINT, INK, MARGIN, RULE, STYLES } from './page-flow.ts';
import type { Pdf } from './typesetter.ts';

const AXIS_WIDTH = 46;
const TITLE_HEIGHT = 15;
const LEGEND_HEIGHT = 12;
const PANEL_HEIGHT = 66;
const BETWEEN_PANELS = 9;
const SCALE_HEIGHT = 24;
const SMALL = { ...STYLES.note, size: 6.5 } as const;

/** The height a plot takes, points; it is never parted by a page's end. */
export function curvesHeight({ panels }: CurvePlot): number {
  return TITLE_HEIGHT + panels.length * (LEGEND_HEIGHT + PANEL_HEIGHT + BETWEEN_PANELS) + SCALE_HEIGHT;
}

/** Curves over the frames of the lead, panel under panel, drawn as lines; each panel can be read in grey and is told in words to those who do not see it. */
export function drawCurves(flow: PageFlow, plot: CurvePlot, parent: Tag): void {
  flow.need(curvesHeight(plot));
  const title = flow.tag('H3', parent);
  flow.line(title, plot.title, MARGIN, flow.y, { ...STYLES.strong, size: 9 });
  title.end();
  flow.y += TITLE_HEIGHT;
  const { start, end } = plot.span;
  const width = flow.width - AXIS_WIDTH;
  const x: ToPoints = (frame) => MARGIN + AXIS_WIDTH + ((frame - start) / Math.max(1, end - start)) * width;
  for (const panel of plot.panels) {
    drawLegend(flow, panel, parent);
    drawPanel(flow, panel, plot, x, parent);
    flow.y += PANEL_HEIGHT + BETWEEN_PANELS;
  }
  drawScale(flow, plot, x, parent);
  flow.y += SCALE_HEIGHT;
}

type ToPoints = (value: number) => number;

/** What the panel shows, and how each line of it is drawn. */
function drawLegend(flow: PageFlow, { label, lines }: CurvePanel, parent: Tag): void {
  const tag = flow.tag('P', parent);
  flow.line(tag, label, MARGIN, flow.y, { ...SMALL, face: 'bold', colour: INK });
  let at = MARGIN + Math.max(AXIS_WIDTH, flow.type.width(label, 'bold', SMALL.size) + 14);
  for (const line of lines) {
    const middle = flow.y + 5;
    flow.artifact((doc) => drawLine(doc, { ...line, parts: isDots(line) ? [[{ frame: 9, value: 0 }]] : [[{ frame: 0, value: 0 }, { frame: 18, value: 0 }]] }, (frame) => at + frame, () => middle));
    flow.line(tag, line.name, at + 22, flow.y, SMALL);
    at += 22 + flow.type.width(line.name, SMALL.face, SMALL.size) + 14;
  }
  tag.end();
  flow.y += LEGEND_HEIGHT;
}

function drawPanel(flow: PageFlow, panel: CurvePanel, { span }: CurvePlot, x: ToPoints, parent: Tag): void {
  const top = flow.y;
  const y: ToPoints = (value) => top + PANEL_HEIGHT - ((value - panel.from) / (panel.to - panel.from || 1)) * PANEL_HEIGHT;
  const [left, right] = [x(span.start), x(span.end)];
  flow.artifact((doc) => {
    for (const { value } of panel.steps) doc.moveTo(left, y(value)).lineTo(right, y(value));
    doc.lineWidth(0.4).stroke(RULE);
    doc.moveTo(left, top).lineTo(left, top + PANEL_HEIGHT).lineTo(right, top + PANEL_HEIGHT).lineWidth(0.75).stroke(INK);
  });
  const figure = flow.tag('Figure', parent, { alt: panel.words });
  figure.add(() => {
    for (const line of panel.lines) drawLine(flow.doc, line, x, y);
    const { limit, worst } = panel;
    if (limit !== undefined && limit.value <= panel.to) drawLimit(flow.doc, left, right, y(limit.value));
    if (worst !== undefined) flow.doc.moveTo(x(worst.frame), top).lineTo(x(worst.frame), top + PANEL_HEIGHT).lineWidth(0.5).stroke(INK).circle(x(worst.frame), y(worst.value), panel.lines.some(isDots) ? 4.4 : 2.6).lineWidth(0.9).stroke(INK);
  });
  for (const { value, label } of panel.steps) flow.line(figure, label, left - 4 - flow.type.width(label, SMALL.face, SMALL.size), y(value) - SMALL.leading / 2, SMALL);
  drawLabels(flow, figure, panel, { x, y, left, right, top });
  figure.end();
}

/** A double line, as no curve is drawn. */
function drawLimit(doc: Pdf, left: number, right: number, y: number): void {
  for (const at of [y - 0.8, y + 0.8]) doc.moveTo(left, at).lineTo(right, at);
  doc.lineWidth(0.45).stroke(INK);
}

interface Frame {
  readonly x: ToPoints;
  readonly y: ToPoints;
  readonly left: number;
  readonly right: number;
  readonly top: number;
}

/** The worst frame beside its ring, on the side where there is room; the limit at the edge, in the half of the panel the worst leaves free. */
function drawLabels(flow: PageFlow, tag: Tag, { limit, worst, to }: CurvePanel, { x, y, left, right, top }: Frame): void {
  const style = { ...SMALL, face: 'bold', colour: INK } as const;
  if (worst !== undefined) {
    const width = flow.type.width(worst.label, style.face, style.size);
    const at = x(worst.frame) + 5 + width <= right ? x(worst.frame) + 5 : x(worst.frame) - 5 - width;
    // Above its ring, where curves of what is less cannot be; below it at the very top.
    const above = y(worst.value) - style.leading - 3;
    const beside = above >= top - 2 ? above : y(worst.value) + 3;
    onWhite(flow, at, beside, width, style.leading);
    flow.line(tag, worst.label, at, beside, style);
  }
  if (limit === undefined) return;
  const isShown = limit.value <= to;
  const text = isShown ? limit.label : `${limit.label} (above)`;
  const width = flow.type.width(text, SMALL.face, SMALL.size);
  const isWorstLeft = worst === undefined || x(worst.frame) < (left + right) / 2;
  const at = isWorstLeft ? right - width - 2 : left + 3;
  const line = isShown ? y(limit.value) : top;
  const place = line - SMALL.leading - 1 >= top - 2 ? line - SMALL.leading - 1 : line + 1;
  onWhite(flow, at, place, width, SMALL.leading);
  flow.line(tag, text, at, place, { ...SMALL, colour: INK });
}

/** Letters are read on white, not on a curve. */
function onWhite(flow: PageFlow, x: number, y: number, width: number, height: number): void {
  flow.artifact((doc) => doc.rect(x - 1, y + 1, width + 2, height - 1).fillOpacity(0.85).fill('#ffffff').fillOpacity(1));
}

function isDots({ look }: CurveLine): boolean {
  return look === 'ring' || look === 'cross' || look === 'disc';
}

function drawLine(doc: Pdf, line: CurveLine, x: ToPoints, y: ToPoints): void {
  for (const part of line.parts) {
    const [first] = part;
    if (first === undefined) continue;
    if (isDots(line)) part.forEach((dot) => drawDot(doc, dot, line.look, x, y));
    else if (part.length === 1) doc.circle(x(first.frame), y(first.value), 0.7).fill(INK);
    else drawPart(doc, part, line.look, x, y);
  }
}

/** Solid lines are heavier than broken ones, so that they are told apart where they lie close. */
function drawPart(doc: Pdf, part: readonly CurveDot[], look: CurveLine['look'], x: ToPoints, y: ToPoints): void {
  part.forEach(({ frame, value }, index) => (index === 0 ? doc.moveTo(x(frame), y(value)) : doc.lineTo(x(frame), y(value))));
  doc.lineJoin('round');
  if (look === 'solid') doc.lineWidth(1.3).stroke(INK);
  else if (look === 'dashed') doc.lineWidth(1).dash(4, { space: 2 }).stroke(INK).undash();
  else doc.lineWidth(1).dash(1, { space: 1.6 }).stroke(FAINT).undash();
}

function drawDot(doc: Pdf, { frame, value }: CurveDot, look: CurveLine['look'], x: ToPoints, y: ToPoints): void {
  const [left, top] = [x(frame), y(value)];
  if (look === 'disc') doc.circle(left, top, 2.4).fill(INK);
  else if (look === 'ring') doc.circle(left, top, 2.6).lineWidth(0.9).stroke(INK);
  else doc.moveTo(left - 2.4, top - 2.4).lineTo(left + 2.4, top + 2.4).moveTo(left - 2.4, top + 2.4).lineTo(left + 2.4, top - 2.4).lineWidth(0.9).stroke(INK);
}

function drawScale(flow: PageFlow, { ticks, span }: CurvePlot, x: ToPoints, parent: Tag): void {
  const top = flow.y - BETWEEN_PANELS;
  const shown = ticks.filter(({ frame }) => frame >= span.start && frame <= span.end);
  flow.artifact((doc) => {
    for (const { frame } of shown) doc.moveTo(x(frame), top).lineTo(x(frame), top + 3);
    doc.lineWidth(0.5).stroke(INK);
  });
  const tag = flow.tag('P', parent);
  const style = { ...STYLES.note, size: 6 } as const;
  flow.line(tag, 'frame of', MARGIN, top + 3, style);
  flow.line(tag, 'the lead', MARGIN, top + 11, style);
  let free = MARGIN + AXIS_WIDTH - 14;
  for (const { frame, label, timecode } of shown) {
    const half = Math.max(...[label, timecode].map((text) => flow.type.width(text, style.face, style.size))) / 2;
    const middle = Math.min(x(frame), MARGIN + flow.width - half);
    if (middle - half < free) continue;
    free = middle + half + 3;
    [label, timecode].forEach((text, row) => flow.line(tag, text, middle - flow.type.width(text, style.face, style.size) / 2, top + 3 + row * 8, style));
  }
  tag.end();
}
