import type { Cell, Column, Table } from '../../formats/sheet/content.ts';
import type { PageFlow, Tag, TextStyle } from './page-flow.ts';
import { FAINT, INK, MARGIN, RULE, STYLES } from './page-flow.ts';

/** A cell's line, as it will be set. */
interface SetLine {
  readonly text: string;
  readonly style: TextStyle;
}

interface Placed {
  readonly x: number;
  readonly width: number;
  readonly align: 'left' | 'right';
}

const GUTTER = 8;
const PADDING = 3;
/** Stands before a difference, so that it is seen without colour. */
const DIFFERS = '◆ ';

/** A table with its headings on every page it runs over; a row taller than a page goes on on the next. */
export function drawTable(flow: PageFlow, table: Table, parent: Tag): void {
  const columns = placeColumns(table.columns, flow.width);
  const tag = flow.tag('Table', parent);
  if (table.caption !== undefined) {
    flow.need(40);
    flow.paragraph(table.caption, STYLES.faint, flow.tag('Caption', tag));
    flow.y += 2;
  }
  const headed = table.columns.some(({ heading }) => heading !== '');
  const headings = table.columns.map(({ heading }, index) => setLines(flow, heading, STYLES.label, columns[index]?.width ?? 0));
  const drawHeadings = (): void => {
    if (headed) drawHeadingRow(flow, headings, columns, tag);
  };
  flow.need(heightOf(headings) + 2 * PADDING + 24);
  drawHeadings();
  for (const row of table.rows) drawRow(flow, row.map((cell, index) => cellLines(flow, cell, columns[index]?.width ?? 0)), columns, tag, drawHeadings);
  tag.end();
  flow.y += 8;
}

/** The height of the whole table on one page, points. */
export function tableHeight(flow: PageFlow, table: Table): number {
  const columns = placeColumns(table.columns, flow.width);
  const widthOf = (index: number): number => columns[index]?.width ?? 0;
  const headings = heightOf(table.columns.map(({ heading }, index) => setLines(flow, heading, STYLES.label, widthOf(index)))) + 2 * PADDING;
  return table.rows.reduce((sum, row) => sum + heightOf(row.map((cell, index) => cellLines(flow, cell, widthOf(index)))) + 2 * PADDING, headings + 8);
}

function placeColumns(columns: readonly Column[], width: number): readonly Placed[] {
  const shares = columns.reduce((sum, { share }) => sum + share, 0);
  let x = MARGIN;
  return columns.map(({ share, align }) => {
    const whole = (share / shares) * width;
    const placed = { x, width: whole - GUTTER, align: align ?? 'left' };
    x += whole;
    return placed;
  });
}

function setLines(flow: PageFlow, text: string, style: TextStyle, width: number): readonly SetLine[] {
  return text === '' ? [] : flow.type.lines(text, style.face, style.size, width).map((line) => ({ text: line, style }));
}

function cellLines(flow: PageFlow, cell: Cell, width: number): readonly SetLine[] {
  const style: TextStyle = cell.tone === 'strong' ? STYLES.strong : cell.tone === 'faint' ? { ...STYLES.body, colour: FAINT } : STYLES.body;
  const differs = cell.differs === true;
  const note = cell.note ?? '';
  const noted = note === '' ? [] : setLines(flow, differs ? DIFFERS + note : note, differs ? { ...STYLES.note, face: 'bold', colour: INK } : STYLES.note, width);
  return [...setLines(flow, differs && note === '' ? DIFFERS + cell.text : cell.text, style, width), ...noted];
}

function heightOf(cells: readonly (readonly SetLine[])[]): number {
  return Math.max(0, ...cells.map((lines) => lines.reduce((sum, { style }) => sum + style.leading, 0)));
}

function drawHeadingRow(flow: PageFlow, headings: readonly (readonly SetLine[])[], columns: readonly Placed[], table: Tag): void {
  drawCells(flow, headings, columns, table, 'TH');
  flow.rule(flow.y, INK, 0.75);
}

function drawRow(flow: PageFlow, cells: readonly (readonly SetLine[])[], columns: readonly Placed[], table: Tag, again: () => void): void {
  const height = heightOf(cells) + 2 * PADDING;
  if (flow.y + height > flow.bottom && height <= flow.pageHeight - 60) {
    flow.newPage();
    again();
  }
  let rest = cells;
  while (rest.some((lines) => lines.length > 0)) {
    const room = flow.bottom - flow.y - 2 * PADDING;
    const parts = rest.map((lines) => fitting(lines, room));
    if (parts.every((count) => count === 0)) {
      flow.newPage();
      again();
      continue;
    }
    drawCells(flow, rest.map((lines, index) => lines.slice(0, parts[index])), columns, table, 'TD');
    rest = rest.map((lines, index) => lines.slice(parts[index]));
  }
  flow.rule(flow.y, RULE);
}

/** How many of the lines fit into the height. */
function fitting(lines: readonly SetLine[], room: number): number {
  let height = 0;
  const over = lines.findIndex(({ style }) => (height += style.leading) > room);
  return over < 0 ? lines.length : over;
}

function drawCells(flow: PageFlow, cells: readonly (readonly SetLine[])[], columns: readonly Placed[], table: Tag, type: 'TH' | 'TD'): void {
  const row = flow.tag('TR', table);
  const top = flow.y + PADDING;
  cells.forEach((lines, index) => {
    const place = columns[index];
    if (place === undefined) return;
    const cell = flow.tag(type, row);
    let y = top;
    for (const { text, style } of lines) {
      const indent = place.align === 'right' ? place.width - flow.type.width(text, style.face, style.size) : 0;
      flow.line(cell, text, place.x + indent, y, style);
      y += style.leading;
    }
    cell.end();
  });
  row.end();
  flow.y = top + heightOf(cells) + PADDING;
}
