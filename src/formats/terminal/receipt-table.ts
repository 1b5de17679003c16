import type { Receipt } from '../turnover/receipt.ts';
import { visibleText } from './visible-text.ts';

const MOST_LINES = 40;

/** A receipt for the terminal: the result, a line a shot that is not whole, the findings. */
export function formatReceiptTable(receipt: Receipt): string {
  const { shots, findings, seal, result } = receipt;
  const frames = shots.reduce((sum, shot) => sum + shot.frames.found, 0);
  const headers = shots.reduce((sum, shot) => sum + shot.headers.checked, 0);
  const shown = findings.slice(0, MOST_LINES).map(({ severity, code, file, place, found, expected, remedy }) => `${severity}  ${code}  ${place === '' ? file : `${file}, ${place}`}: ${found}; expected ${expected}. → ${remedy}`);
  const lines = [
    `${receipt.package}${receipt.revision === 0 ? '' : `, revision ${receipt.revision}`}: ${{ whole: 'WHOLE', look: 'LOOK', 'not whole': 'NOT WHOLE' }[result]}`,
    '',
    `${shots.length} ${shots.length === 1 ? 'shot' : 'shots'}, ${frames} frames, ${headers} headers read, ${seal.verifiedFiles} files agree with their hashes`,
    ...shots.filter((shot) => shot.result !== 'whole').map((shot) => `${shot.shot}: ${shot.result}, ${shot.frames.found} of ${shot.frames.expected} frames`),
    ...(shown.length === 0 ? [] : ['', ...shown]),
    ...(findings.length > MOST_LINES ? [`and ${findings.length - MOST_LINES} more in the receipt`] : []),
  ];
  return `${lines.map((line) => visibleText(line)).join('\n')}\n`;
}
