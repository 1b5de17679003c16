import type { Severity } from '../../core/material/finding.ts';
import type { FindingWords } from '../../formats/sheet/content.ts';
import type { PageFlow, Tag } from './page-flow.ts';
import { INK, MARGIN, RULE, STYLES } from './page-flow.ts';

const CHIP_WIDTH = 36;
const CHIP_HEIGHT = 12;
const INDENT = CHIP_WIDTH + 12;

/** Findings one under another: how grave, what, what it does, what to do, and where it was read. */
export function drawFindings(flow: PageFlow, findings: readonly FindingWords[], parent: Tag): void {
  const list = flow.tag('L', parent);
  findings.forEach((finding, index) => {
    drawFinding(flow, finding, list);
    if (index < findings.length - 1) flow.rule(flow.y, RULE);
    flow.y += 5;
  });
  list.end();
}

function drawFinding(flow: PageFlow, finding: FindingWords, list: Tag): void {
  const width = flow.width - INDENT;
  const remedy = `→ ${finding.remedy}`;
  // What must be done stands out; what need not be done does not.
  const remedyStyle = finding.severity === 'note' ? STYLES.body : STYLES.strong;
  const place = [finding.clips, finding.evidence].filter((part) => part !== '').join('  ·  ');
  const height =
    STYLES.strong.leading +
    flow.type.lines(finding.consequence, 'regular', STYLES.body.size, width).length * STYLES.body.leading +
    flow.type.lines(remedy, remedyStyle.face, remedyStyle.size, width).length * remedyStyle.leading +
    flow.type.lines(place, 'regular', STYLES.note.size, width).length * STYLES.note.leading;
  flow.need(Math.min(height, flow.pageHeight / 2));
  const item = flow.tag('LI', list);
  drawChip(flow, finding.severity, item);
  const x = MARGIN + INDENT;
  flow.paragraph(`${finding.code}${finding.measured === '' ? '' : ` · ${finding.measured}`}`, STYLES.strong, item, x, width);
  flow.paragraph(finding.consequence, STYLES.body, item, x, width);
  if (finding.remedy !== '') flow.paragraph(remedy, remedyStyle, item, x, width);
  if (place !== '') flow.paragraph(place, STYLES.note, item, x, width);
  item.end();
  flow.y += 4;
}

/** STOP on black, WARN in a frame, NOTE bare: graver is darker. */
function drawChip(flow: PageFlow, severity: Severity, item: Tag): void {
  const top = flow.y;
  flow.artifact((doc) => {
    if (severity === 'stop') doc.rect(MARGIN, top, CHIP_WIDTH, CHIP_HEIGHT).fill(INK);
    if (severity === 'warn') doc.rect(MARGIN + 0.5, top + 0.5, CHIP_WIDTH - 1, CHIP_HEIGHT - 1).lineWidth(1).stroke(INK);
  });
  const text = severity.toUpperCase();
  const style = { face: 'bold', size: 7.5, colour: severity === 'stop' ? '#ffffff' : INK, leading: CHIP_HEIGHT } as const;
  const label = flow.tag('Lbl', item);
  flow.line(label, text, MARGIN + (CHIP_WIDTH - flow.type.width(text, style.face, style.size)) / 2, top, style);
  label.end();
}
