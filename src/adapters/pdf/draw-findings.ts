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

/** The words below a finding's name, and what of it stays on one page. */
function partsOf(flow: PageFlow, finding: FindingWords) {
  const width = flow.width - INDENT;
  // What must be done stands out; what need not be done does not.
  const remedyStyle = finding.severity === 'note' ? STYLES.body : STYLES.strong;
  const parts = [
    { text: finding.consequence, style: STYLES.body },
    { text: finding.remedy === '' ? '' : `→ ${finding.remedy}`, style: remedyStyle },
    { text: [finding.clips, finding.evidence].filter((part) => part !== '').join('  ·  '), style: STYLES.note },
  ].filter(({ text }) => text !== '');
  const height = parts.reduce<number>((sum, { text, style }) => sum + flow.type.lines(text, style.face, style.size, width).length * style.leading, STYLES.strong.leading);
  return { parts, height: Math.min(height, flow.pageHeight / 2) };
}

/** What of a finding stays on one page. */
export function findingHeight(flow: PageFlow, finding: FindingWords): number {
  return partsOf(flow, finding).height;
}

function drawFinding(flow: PageFlow, finding: FindingWords, list: Tag): void {
  const { parts, height } = partsOf(flow, finding);
  flow.need(height);
  const item = flow.tag('LI', list);
  drawChip(flow, finding.severity, item);
  const x = MARGIN + INDENT;
  const width = flow.width - INDENT;
  flow.paragraph(`${finding.code}${finding.measured === '' ? '' : ` · ${finding.measured}`}`, STYLES.strong, item, x, width);
  for (const { text, style } of parts) flow.paragraph(text, style, item, x, width);
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
