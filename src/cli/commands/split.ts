import type { Command } from 'commander';
import { InvalidArgumentError } from 'commander';
import { formatSplitStudy } from '../../formats/report/split-study.ts';
import { formatSplitFacts } from '../../formats/terminal/split-facts.ts';
import { loadConfig } from '../../pipeline/load-config.ts';
import { splitClips } from '../../pipeline/split-clips.ts';
import { EXIT } from '../exit-codes.ts';
import { terminal } from '../judge-day.ts';
import { progressLine } from '../progress-line.ts';

const EXAMPLES = `
Examples:
  gemel split A014C002.mov A014C003.mov --clean A014C004.mov
  gemel split A014C002.mov A014C003.mov --offset 12 --picture line.png
  gemel split lead-frames swapped-frames --json | jq .corridor

A sequence is given by the folder it lies in. Without --offset the passes are laid head to head, unless their sound or camera
motion says otherwise. Exit code 0: yes, a line joins them. 1: no. 2: cannot tell, or could not run.`;

interface Options {
  readonly clean?: string;
  readonly offset?: number;
  readonly json?: boolean;
  readonly picture?: string;
}

/** `gemel split LEAD SWAPPED`: whether two clips join along a line, where, and if not, which frames fail. */
export function addSplit(gemel: Command): void {
  gemel.command('split').argument('<lead>', 'the lead pass').argument('<swapped>', 'the swapped pass')
    .description('whether two passes join along a split line: where it goes, how much room it has, which frames fail')
    .option('--clean <file>', 'their clean plate: without it, who stands still for half of both passes is not seen')
    .option('--offset <frames>', 'frame of the swapped pass = frame of the lead + this, both counted from 0', frames)
    .option('--picture <file>', 'write a PNG picture: both passes with the line, joined, and their difference')
    .option('--json', 'as JSON')
    .addHelpText('after', EXAMPLES)
    .action(async (lead: string, swapped: string, options: Options) => {
      const media = [lead, swapped, ...(options.clean === undefined ? [] : [options.clean])];
      const { config } = await loadConfig(undefined, { media, filesToo: true, settleSeconds: 0 });
      const { picture } = await splitClips(config, { lead, swapped, ...options }, progressLine(process.stderr, () => performance.now()), gemel.getOptionValue('signal'));
      process.stdout.write(options.json === true ? formatSplitStudy(picture) : formatSplitFacts(picture, terminal().width));
      const verdict = picture.split?.verdict;
      process.exitCode = verdict === 'yes' ? EXIT.clear : verdict === 'no' ? EXIT.stop : EXIT.failed;
    });
}

function frames(text: string): number {
  const value = Number(text);
  if (!Number.isSafeInteger(value) || text.trim() === '' || Math.abs(value) > 1e7) throw new InvalidArgumentError('expected a whole number of frames');
  return value;
}
