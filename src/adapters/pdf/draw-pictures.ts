import type { Picture, PictureRow } from '../../formats/sheet/content.ts';
import { stillKey } from '../../formats/sheet/content.ts';
import type { PageFlow, Tag } from './page-flow.ts';
import { INK, MARGIN, RULE, STYLES } from './page-flow.ts';

const LABEL_WIDTH = 88;
const GAP = 8;
const IN_A_ROW = 3;
const SHAPE = 9 / 16;
const CAPTION = { ...STYLES.note, size: 6.5 } as const;

export type Stills = ReadonlyMap<string, Uint8Array>;

/** Matched frames: a row a pass, the same moments under one another. A picture that cannot be shown has a box that says why. */
export function drawPictures(flow: PageFlow, caption: string, rows: readonly PictureRow[], stills: Stills, parent: Tag): void {
  const width = pictureWidth(flow);
  const height = width * SHAPE;
  const captionOf = ({ pictures }: PictureRow): number => CAPTION.leading * (pictures.some(({ remark }) => remark !== '') ? 2 : 1) + 2;
  flow.need(firstPicturesHeight(flow));
  const title = flow.tag('H3', parent);
  flow.line(title, caption, MARGIN, flow.y, STYLES.strong);
  title.end();
  flow.y += 14;
  for (const row of rows) {
    flow.need(height + captionOf(row));
    drawLabel(flow, row, parent);
    row.pictures.forEach((picture, index) => drawPicture(flow, row, picture, stills, MARGIN + LABEL_WIDTH + index * (width + GAP), width, height, parent));
    flow.y += height + captionOf(row) + 5;
  }
  flow.y += 4;
}

/** Room for the caption and the first row, points. */
export function firstPicturesHeight(flow: PageFlow): number {
  return STYLES.strong.leading + pictureWidth(flow) * SHAPE + 30;
}

function pictureWidth({ width }: PageFlow): number {
  return (width - LABEL_WIDTH - GAP * (IN_A_ROW - 1)) / IN_A_ROW;
}

function drawLabel(flow: PageFlow, { label, note }: PictureRow, parent: Tag): void {
  const tag = flow.tag('P', parent);
  flow.line(tag, label, MARGIN, flow.y, STYLES.strong);
  flow.type.lines(note, 'regular', STYLES.note.size, LABEL_WIDTH - 8).forEach((line, index) => flow.line(tag, line, MARGIN, flow.y + 12 + index * STYLES.note.leading, STYLES.note));
  tag.end();
}

function drawPicture(flow: PageFlow, row: PictureRow, picture: Picture, stills: Stills, x: number, width: number, height: number, parent: Tag): void {
  const top = flow.y;
  const bytes = picture.still === undefined ? undefined : stills.get(stillKey(picture.still));
  const figure = flow.tag('Figure', parent, { alt: `${row.label}, ${picture.heading}, ${picture.caption}` });
  const drawn = bytes !== undefined && drawImage(flow, figure, bytes, x, top, width, height);
  if (!drawn) {
    flow.artifact((doc) => doc.rect(x + 0.25, top + 0.25, width - 0.5, height - 0.5).lineWidth(0.5).dash(2, { space: 2 }).stroke(RULE).undash());
    const words = flow.type.lines(picture.instead, 'regular', STYLES.faint.size, width - 12);
    words.forEach((line, index) => flow.line(figure, line, x + (width - flow.type.width(line, 'regular', STYLES.faint.size)) / 2, top + height / 2 - 5 + index * 10, STYLES.faint));
  }
  figure.end();
  const tag = flow.tag('Caption', parent);
  const heading = flow.type.width(`${picture.heading} `, 'bold', CAPTION.size);
  flow.line(tag, picture.heading, x, top + height + 1, { ...CAPTION, face: 'bold', colour: INK });
  flow.line(tag, picture.caption, x + heading + 1, top + height + 1, CAPTION);
  if (picture.remark !== '') flow.line(tag, picture.remark, x, top + height + 1 + CAPTION.leading, { ...CAPTION, face: 'bold', colour: INK });
  tag.end();
}

/** Fits the picture into its box, never stretched. False when the bytes are no picture pdfkit can read. */
function drawImage(flow: PageFlow, figure: Tag, bytes: Uint8Array, x: number, top: number, width: number, height: number): boolean {
  try {
    const image = flow.doc.openImage(Buffer.from(bytes));
    flow.artifact((doc) => doc.rect(x, top, width, height).fill('#eceef0'));
    figure.add(() => flow.doc.image(image, x, top, { fit: [width, height], align: 'center', valign: 'center' }));
    return true;
  } catch {
    return false;
  }
}
