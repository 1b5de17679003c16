import type { Command } from 'commander';
import { parseMounts } from '../../pipeline/farm/mounts.ts';
import { loadConfig } from '../../pipeline/load-config.ts';
import type { DayOptions } from '../day-options.ts';
import { overridesOf, withDayOptions } from '../day-options.ts';
import { judgeDay } from '../judge-day.ts';

const EXAMPLES = `
Examples:
  gemel run pipelines/show.yaml
  gemel run pipelines/show.yaml --media /Volumes/DAY_05 --out day-05
  gemel run pipelines/show.yaml --cut cut/r1_V1.edl cut/r1_V2.edl

Every key of a pipeline file is explained in docs/pipeline.md; what it leaves out, pipelines/default.yaml answers.`;

interface RunOptions extends DayOptions {
  readonly media?: string[];
  readonly database?: string;
  readonly mount?: string[];
}

/** `gemel run PIPELINE`: the same as check, as the pipeline file says. */
export function addRun(gemel: Command): void {
  withDayOptions(gemel.command('run').argument('<pipeline>', 'a pipeline file (YAML)'))
    .description('the same as check, as a pipeline file says')
    .option('--media <folder...>', 'read these folders instead of those the pipeline names')
    .option('--database <url>', 'share the work with workers through this PostgreSQL database (or set GEMEL_DATABASE, which other users of the machine cannot see)')
    .option('--mount <name=folder...>', 'with a database: where a shared volume lies here, under the name all machines know it by')
    .addHelpText('after', EXAMPLES)
    .action(async (pipeline: string, options: RunOptions) => {
      const loaded = await loadConfig(pipeline, { ...overridesOf(options), ...(options.media === undefined ? {} : { media: options.media }) });
      const database = options.database ?? process.env['GEMEL_DATABASE'];
      await judgeDay(loaded, options, gemel.getOptionValue('signal'), database === undefined ? {} : { database, mounts: parseMounts(options.mount ?? []) });
    });
}
