import type { Command } from 'commander';
import { InvalidArgumentError } from 'commander';
import { UsageError } from '../../core/material/errors.ts';
import { formatHealth } from '../../formats/terminal/health.ts';
import { loadConfig } from '../../pipeline/load-config.ts';
import { parseMounts } from '../../pipeline/farm/mounts.ts';
import { watchDay } from '../../pipeline/watch-day.ts';
import type { DayOptions } from '../day-options.ts';
import { overridesOf, withStandingOptions } from '../day-options.ts';
import { EXIT } from '../exit-codes.ts';
import { healthLine } from '../health-line.ts';
import { say } from '../say.ts';

const EXAMPLES = `
Examples:
  gemel watch pipelines/show.yaml
  gemel watch pipelines/show.yaml --media /Volumes/SHUTTLE_01 --out /srv/board
  gemel watch pipelines/show.yaml --serve 8080                    the board, live, for browsers on this machine
  gemel watch pipelines/show.yaml --serve 8080 --host 0.0.0.0     for phones too, with the token that is printed

Takes a clip when it has settled, judges again what a change touches, and keeps report, sheets and board current. Stop it
with Ctrl-C; start it again, and it goes on where it was. Its log lies in OUT/.gemel/log.`;

interface WatchOptions extends Omit<DayOptions, 'json' | 'verifyHashes' | 'picture'> {
  readonly media?: string[];
  readonly database?: string;
  readonly mount?: string[];
  readonly serve?: number;
  readonly host?: string;
}

/** `gemel watch PIPELINE`: the same as run, for ever. */
export function addWatch(gemel: Command): void {
  withStandingOptions(gemel.command('watch').argument('<pipeline>', 'a pipeline file (YAML)'))
    .description('the same as run, for ever: keep everything current while cards land')
    .option('--media <folder...>', 'watch these folders instead of those the pipeline names')
    .option('--mount <name=folder...>', 'with a database: where a shared volume lies here, under the name all machines know it by')
    .option('--database <url>', 'share the work with workers through this PostgreSQL database (or set GEMEL_DATABASE, which other users of the machine cannot see)')
    .option('--serve <port>', 'offer the board over HTTP, live, with sheets and repeat cards (0: any port that is free)', port)
    .option('--host <address>', 'with --serve: the address to offer it at (default: 127.0.0.1, this machine alone); elsewhere a token is needed')
    .addHelpText('after', EXAMPLES)
    .action(async (pipeline: string, options: WatchOptions) => {
      if (options.host !== undefined && options.serve === undefined) throw new UsageError(['--host says where to serve the board; give --serve PORT too']);
      const line = healthLine(process.stderr);
      const load = async (): ReturnType<typeof loadConfig> =>
        loadConfig(pipeline, { ...overridesOf({ ...options, picture: true }), ...(options.media === undefined ? {} : { media: options.media }) });
      const signal: AbortSignal = gemel.getOptionValue('signal');
      await watchDay(
        { load, database: options.database ?? process.env['GEMEL_DATABASE'], mounts: parseMounts(options.mount ?? []), progress: line.progress, onHealth: (health) => line.show(formatHealth(health)), onWarning: (warning) => line.say(() => say(warning)), onServe: (url) => process.stdout.write(`Board: ${url}\n`), ...serveOf(options) },
        signal,
      );
      line.end();
      // Ctrl-C is how a watch ends; it is no failure.
      process.exitCode = EXIT.clear;
    });
}

function serveOf({ serve, host }: WatchOptions): { readonly serve?: { readonly port: number; readonly host: string } } {
  return serve === undefined ? {} : { serve: { port: serve, host: host ?? '127.0.0.1' } };
}

function port(text: string): number {
  const value = Number(text);
  if (!/^\d+$/.test(text) || value > 65_535) throw new InvalidArgumentError('expected a port, a whole number from 0 to 65535');
  return value;
}
