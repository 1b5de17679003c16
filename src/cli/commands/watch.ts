import type { Command } from 'commander';
import { formatHealth } from '../../formats/terminal/health.ts';
import { loadConfig } from '../../pipeline/load-config.ts';
import { parseMounts } from '../../pipeline/farm/mounts.ts';
import { watchDay } from '../../pipeline/watch-day.ts';
import type { DayOptions } from '../day-options.ts';
import { overridesOf, withDayOptions } from '../day-options.ts';
import { EXIT } from '../exit-codes.ts';
import { healthLine } from '../health-line.ts';

const EXAMPLES = `
Examples:
  gemel watch pipelines/show.yaml
  gemel watch pipelines/show.yaml --media /Volumes/SHUTTLE_01 --out /srv/board

Takes a clip when it has settled, judges again what a change touches, and keeps report, sheets and board current. Stop it
with Ctrl-C; start it again, and it goes on where it was. Its log lies in OUT/.gemel/log.`;

interface WatchOptions extends Omit<DayOptions, 'json'> {
  readonly media?: string[];
  readonly database?: string;
  readonly mount?: string[];
}

/** `gemel watch PIPELINE`: the same as run, for ever. */
export function addWatch(gemel: Command): void {
  withDayOptions(gemel.command('watch').argument('<pipeline>', 'a pipeline file (YAML)'))
    .description('the same as run, for ever: keep everything current while cards land')
    .option('--media <folder...>', 'watch these folders instead of those the pipeline names')
    .option('--mount <name=folder...>', 'with a database: where a shared volume lies here, under the name all machines know it by')
    .option('--database <url>', 'keep the catalogue in this PostgreSQL database (or set GEMEL_DATABASE, which other users of the machine cannot see)')
    .addHelpText('after', EXAMPLES)
    .action(async (pipeline: string, options: WatchOptions) => {
      const line = healthLine(process.stderr);
      const load = async (): ReturnType<typeof loadConfig> =>
        loadConfig(pipeline, { ...overridesOf(options), ...(options.media === undefined ? {} : { media: options.media }) });
      const signal: AbortSignal = gemel.getOptionValue('signal');
      await watchDay(
        { load, database: options.database ?? process.env['GEMEL_DATABASE'], mounts: parseMounts(options.mount ?? []), progress: line.progress, onHealth: (health) => line.show(formatHealth(health)) },
        signal,
      );
      line.end();
      // Ctrl-C is how a watch ends; it is no failure.
      process.exitCode = EXIT.clear;
    });
}
