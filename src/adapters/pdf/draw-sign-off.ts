import type { PageFlow, Tag } from './page-flow.ts';
import { FAINT, MARGIN, STYLES } from './page-flow.ts';

const ROW_HEIGHT = 34;
const WHO_WIDTH = 96;
const GAP = 12;

/** What stays on one page: all rows, unless they are many. */
export function signOffHeight(signatures: readonly string[]): number {
  return ROW_HEIGHT * Math.min(signatures.length, 6);
}

/** A row for each who signs, with a line to write on for each field. */
export function drawSignOff(flow: PageFlow, signatures: readonly string[], fields: readonly string[], parent: Tag): void {
  const width = (flow.width - WHO_WIDTH) / Math.max(1, fields.length);
  flow.need(signOffHeight(signatures));
  for (const who of signatures) {
    flow.need(ROW_HEIGHT);
    const top = flow.y;
    const tag = flow.tag('P', parent);
    flow.line(tag, who, MARGIN, top + 13, STYLES.strong);
    fields.forEach((field, index) => {
      const x = MARGIN + WHO_WIDTH + index * width;
      flow.line(tag, field, x, top + 25, STYLES.note);
    });
    tag.end();
    fields.forEach((_field, index) => flow.rule(top + 24, FAINT, 0.6, MARGIN + WHO_WIDTH + index * width, width - GAP));
    flow.y += ROW_HEIGHT;
  }
}
