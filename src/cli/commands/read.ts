import type { Command } from 'commander';
import { formatReadClips } from '../../formats/report/read-clips.ts';
import { formatClipFacts } from '../../formats/terminal/clip-facts.ts';
import { loadConfig } from '../../pipeline/load-config.ts';
import { readClips } from '../../pipeline/read-clips.ts';
import { EXIT } from '../exit-codes.ts';
import { terminal } from '../judge-day.ts';
import { progressLine } from '../progress-line.ts';

const EXAMPLES = `
Examples:
  gemel read A014C002_261124_K3QX.mov
  gemel read A014C002_261124_K3QX.mov A014C002_261124_K3QX.xml camera-report.csv
  gemel read plates/*.mxf --json | jq '.[].lens'

Give the clip's sidecar or report along with it to have those read too. Exit code 1 when a clip cannot be used.`;

/** `gemel read FILE…`: what one clip says of itself, each value with its source. */
export function addRead(gemel: Command): void {
  gemel.command('read').argument('<file...>', 'clips, and any sidecars or reports that belong to them')
    .description('what a clip says of itself, each value with its source')
    .option('--pipeline <file>', 'read headings, words and mappings as this pipeline file says')
    .option('--json', 'as JSON')
    .addHelpText('after', EXAMPLES)
    .action(async (files: string[], options: { readonly json?: boolean; readonly pipeline?: string }) => {
      const { config } = await loadConfig(options.pipeline, { media: files, filesToo: true, settleSeconds: 0 });
      const { clips, warnings } = await readClips(config, progressLine(process.stderr, () => performance.now()), gemel.getOptionValue('signal'));
      process.stdout.write(options.json === true ? formatReadClips(clips) : clips.map((clip) => formatClipFacts(clip, terminal())).join('\n'));
      for (const warning of warnings) process.stderr.write(`gemel: ${warning}\n`);
      if (clips.length === 0) process.stderr.write('gemel: there is no clip among these files\n');
      process.exitCode = clips.length === 0 ? EXIT.failed : clips.some(({ usable }) => !usable) ? EXIT.stop : EXIT.clear;
    });
}
