import type { Command } from 'commander';
import { Option } from 'commander';
import { formatReceiptTable } from '../../formats/terminal/receipt-table.ts';
import { formatReceipt } from '../../formats/turnover/receipt.ts';
import { receiveFolder } from '../../pipeline/receive-folder.ts';
import { EXIT } from '../exit-codes.ts';
import { progressLine } from '../progress-line.ts';
import { printableJson, say } from '../say.ts';

const EXAMPLES = `
Examples:
  gemel receive turnover_002
  gemel receive /Volumes/FROM_PRODUCTION/turnover_002 --out receipts

Checks every file against the seal, every frame against shot.json (numbering, timecode and rate in its header), and what lies there
besides. Needs nothing but Node, and writes nothing into the package. docs/receipt.md explains the receipt.

Exit codes: 0 the package is whole, 1 something stops it, 2 it could not be received.`;

interface ReceiveFlags {
  readonly out?: string;
  readonly paper: 'A4' | 'Letter';
  readonly json?: boolean;
}

/** `gemel receive PACKAGE`: the vendor's side. */
export function addReceive(gemel: Command): void {
  gemel
    .command('receive')
    .argument('<package>', 'the folder of a turnover package')
    .description('check a package that arrived, and write a receipt (JSON and PDF)')
    .option('--out <folder>', 'where the receipt goes (default: beside the package)')
    .addOption(new Option('--paper <size>', 'paper of the receipt').choices(['A4', 'Letter']).default('A4'))
    .option('--json', 'print the receipt as JSON instead of the table')
    .addHelpText('after', EXAMPLES)
    .action(async (folder: string, { out, paper, json }: ReceiveFlags) => {
      const received = await receiveFolder(folder, out, paper, progressLine(process.stderr, () => performance.now()), gemel.getOptionValue('signal'));
      const { receipt } = received;
      process.stdout.write(json === true ? printableJson(formatReceipt(receipt)) : `${formatReceiptTable(receipt)}\nReceipt        ${received.json}\n               ${received.pdf}\n`);
      for (const warning of received.warnings) say(warning);
      process.exitCode = receipt.result === 'not whole' ? EXIT.stop : EXIT.clear;
    });
}
