import type { Block, Section, SheetContent } from '../sheet/content.ts';
import { fingerprint } from '../sheet/fingerprint.ts';
import type { Paper } from '../sheet/content.ts';
import type { Receipt } from './receipt.ts';

/** More findings than these are for programs: they stand in the JSON. */
const MOST_FINDINGS = 200;

/** The receipt as a page to sign: the result, every shot, every finding, and fields for who received what when. */
export function receiptSheet(receipt: Receipt, paper: Paper): SheetContent {
  const { show, seal } = receipt;
  const name = receipt.package;
  const verdict = { whole: 'yes', look: 'look', 'not whole': 'no' } as const;
  const print = fingerprint(JSON.stringify(receipt));
  const revision = receipt.revision === 0 ? print : `${receipt.revision} (${print})`;
  const sections: readonly Section[] = [
    { heading: 'Shots', blocks: [shotsTable(receipt)] },
    { heading: 'Findings', blocks: findingBlocks(receipt) },
    { heading: 'Sign-off', blocks: [{ kind: 'sign-off', signatures: ['Received by', 'For the production'], fields: ['Name', 'Date and time', 'Signature'] }] },
  ];
  return {
    kind: 'sheet',
    paper,
    accent: '#1d4e63',
    heading: {
      title: 'Receipt',
      show,
      name,
      beside: receipt.revision === 0 ? '' : `revision ${receipt.revision}`,
      facts: [
        { label: 'Files', value: `${receipt.files}, ${receipt.bytes} bytes` },
        { label: 'Seal', value: `${seal.verifiedFiles} files agree with their hashes, ${seal.hashedBytes} bytes read, ${seal.generations} ${seal.generations === 1 ? 'generation' : 'generations'}` },
        { label: 'Revision', value: revision },
      ],
      verdict: { verdict: verdict[receipt.result], question: 'Package whole', answer: { whole: 'YES', look: 'LOOK', 'not whole': 'NO' }[receipt.result], reason: reasonOf(receipt) },
    },
    sections,
    footer: { left: `${name} · receipt · revision ${revision}`, caution: 'This says what arrived. It judges no picture, and clears nothing for safety.' },
  };
}

function reasonOf({ findings, result }: Receipt): string {
  const count = (severity: string): number => findings.filter((finding) => finding.severity === severity).length;
  if (result === 'whole') return 'Every file is here and unharmed, every frame has its number and its timecode.';
  return `${count('stop')} that stop, ${count('warn')} to look at.`;
}

function shotsTable({ shots }: Receipt): Block {
  return {
    kind: 'table',
    columns: [{ heading: 'Shot', share: 1.6 }, { heading: 'Change', share: 1.4 }, { heading: 'Frames here', share: 1, align: 'right' }, { heading: 'Headers', share: 1.4 }, { heading: 'Result', share: 0.9 }],
    rows: shots.map(({ shot, change, frames, headers, result }) => [
      { text: shot, tone: 'strong' },
      { text: change.join(', ') },
      { text: frames.expected === 0 ? 'pull list only' : `${frames.found} of ${frames.expected}`, differs: frames.found !== frames.expected },
      { text: headers.checked === 0 ? 'none to read' : headers.differ === 0 ? `${headers.checked} agree` : `${headers.differ} of ${headers.checked} differ`, differs: headers.differ > 0 },
      { text: result, tone: result === 'whole' ? 'plain' : 'strong' },
    ]),
  };
}

function findingBlocks({ findings }: Receipt): readonly Block[] {
  if (findings.length === 0) return [{ kind: 'text', text: 'None.', tone: 'faint' }];
  const shown = findings.slice(0, MOST_FINDINGS);
  const more = findings.length - shown.length;
  return [
    {
      kind: 'findings',
      findings: shown.map(({ severity, code, file, place, found, expected, remedy }) => ({
        severity, code, measured: '', clips: place === '' ? file : `${file}, ${place}`, consequence: `Found: ${found}. Expected: ${expected}.`, remedy, evidence: '',
      })),
    },
    ...(more === 0 ? [] : [{ kind: 'text', text: `${more} further findings stand in the receipt's JSON.`, tone: 'strong' } as const]),
  ];
}
