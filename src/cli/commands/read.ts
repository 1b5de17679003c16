import type { Command } from 'commander';
import { InvalidArgumentError } from 'commander';
import { formatReadClips } from '../../formats/report/read-clips.ts';
import { formatClipFacts } from '../../formats/terminal/clip-facts.ts';
import { loadConfig } from '../../pipeline/load-config.ts';
import { readClips } from '../../pipeline/read-clips.ts';
import { EXIT } from '../exit-codes.ts';
import { terminal } from '../judge-day.ts';
import { progressLine } from '../progress-line.ts';
import { printableJson, say } from '../say.ts';

const EXAMPLES = `
Examples:
  gemel read A014C002_261124_K3QX.mov
  gemel read A014C002_261124_K3QX.mov A014C002_261124_K3QX.xml camera-report.csv
  gemel read plates/*.mxf --json | jq '.[].optics.fieldOfView'
  gemel read A014C002_261124_K3QX.mov --circle 0.03

Give the clip's sidecar or report along with it to have those read too. Exit code 1 when a clip cannot be used.`;

/** `gemel read FILE…`: what one clip says of itself, each value with its source, and what the lens makes of it. */
export function addRead(gemel: Command): void {
  gemel.command('read').argument('<file...>', 'clips, and any sidecars or reports that belong to them')
    .description('what a clip says of itself, each value with its source, and what the lens makes of it')
    .option('--pipeline <file>', 'read headings, words and mappings as this pipeline file says')
    .option('--circle <mm>', 'circle of confusion for the depth of field (default: 0.025, customary for 35 mm film)', millimetres)
    .option('--json', 'as JSON')
    .addHelpText('after', EXAMPLES)
    .action(async (files: string[], options: { readonly circle?: number; readonly json?: boolean; readonly pipeline?: string }) => {
      const { config } = await loadConfig(options.pipeline, { media: files, filesToo: true, settleSeconds: 0 });
      const { clips, optics, warnings } = await readClips(config, progressLine(process.stderr, () => performance.now()), gemel.getOptionValue('signal'), options.circle);
      process.stdout.write(options.json === true ? printableJson(formatReadClips(clips, optics)) : clips.map((clip) => formatClipFacts(clip, terminal(), optics(clip))).join('\n'));
      for (const warning of warnings) say(warning);
      if (clips.length === 0) process.stderr.write('gemel: there is no clip among these files\n');
      process.exitCode = clips.length === 0 ? EXIT.failed : clips.some(({ usable }) => !usable) ? EXIT.stop : EXIT.clear;
    });
}

function millimetres(text: string): number {
  const value = Number(text);
  if (!(value >= 0.0001 && value <= 1) || text.trim() === '') throw new InvalidArgumentError('expected a length in mm, from 0.0001 to 1');
  return value;
}
