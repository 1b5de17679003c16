import type { Footer } from '../../formats/sheet/content.ts';
import type { PageFlow } from './page-flow.ts';
import { MARGIN, STYLES } from './page-flow.ts';

const FOOT_STYLE = { ...STYLES.note, size: 6.5, leading: 8 } as const;

/** The foot of every page, once it is known how many there are: which sheet, which page, and what it does not vouch for. */
export function drawFooters(flow: PageFlow, footer: Footer): void {
  const { start, count } = flow.doc.bufferedPageRange();
  for (let page = 0; page < count; page += 1) {
    flow.doc.switchToPage(start + page);
    const number = `page ${page + 1} of ${count}`;
    const top = flow.bottom + 14;
    flow.rule(top - 3);
    // Not part of what is read out: it would come between two pages of one table.
    flow.doc.markContent('Artifact', { type: 'Pagination' });
    plain(flow, footer.left, MARGIN, top);
    plain(flow, number, MARGIN + flow.width - flow.type.width(number, FOOT_STYLE.face, FOOT_STYLE.size), top);
    flow.type
      .lines(footer.caution, FOOT_STYLE.face, FOOT_STYLE.size, flow.width)
      .slice(0, 3)
      .forEach((line, index) => plain(flow, line, MARGIN, top + (index + 1) * FOOT_STYLE.leading + 2));
    flow.doc.endMarkedContent();
  }
}

function plain(flow: PageFlow, text: string, x: number, top: number): void {
  flow.type.line(text, x, top + FOOT_STYLE.leading * 0.5 + FOOT_STYLE.size * 0.36, FOOT_STYLE.face, FOOT_STYLE.size, FOOT_STYLE.colour);
}
