import { availableParallelism } from 'node:os';
import type { Command } from 'commander';
import { InvalidArgumentError } from 'commander';
import { UsageError } from '../../core/material/errors.ts';
import { parseMounts } from '../../pipeline/farm/mounts.ts';
import { workFarm } from '../../pipeline/work-farm.ts';
import { EXIT } from '../exit-codes.ts';
import { say } from '../say.ts';

const EXAMPLES = `
Examples:
  GEMEL_DATABASE=postgres://gemel:…@server/gemel gemel worker
  gemel worker --mount shuttle=/mnt/shuttle --reads 8 --decodes 2 --sheets 2

Does the jobs that a watch with the same database puts up, on storage both can reach. Start as many as you like, stop them when
you like: a job whose worker dies is done by another. Ctrl-C finishes the jobs in hand.`;

interface WorkerOptions {
  readonly database?: string;
  readonly mount?: string[];
  readonly reads: number;
  readonly hashes: number;
  readonly decodes: number;
  readonly sheets: number;
}

/** `gemel worker`: one worker of a farm. */
export function addWorker(gemel: Command): void {
  gemel
    .command('worker')
    .description('one worker of a farm: does the jobs of a watch with the same database')
    .option('--database <url>', 'the PostgreSQL database (or set GEMEL_DATABASE, which other users of the machine cannot see)')
    .option('--mount <name=folder...>', 'where a shared volume lies on this machine, under the name all machines know it by')
    .option('--reads <jobs>', 'clips read at a time', jobs, 4)
    .option('--hashes <jobs>', 'files hashed at a time', jobs, 1)
    .option('--decodes <jobs>', 'sets whose pictures are measured at a time', jobs, Math.min(4, availableParallelism()))
    .option('--sheets <jobs>', 'sheets printed at a time', jobs, availableParallelism())
    .addHelpText('after', EXAMPLES)
    .action(async (options: WorkerOptions) => {
      const database = options.database ?? process.env['GEMEL_DATABASE'];
      if (database === undefined) throw new UsageError(['a worker needs a database: set GEMEL_DATABASE, or give --database URL']);
      const done = { read: 0, hash: 0, decode: 0, sheet: 0 };
      const words = (): string => `${done.read} clips read, ${done.hash} files hashed, pictures of ${done.decode} leads measured, ${done.sheet} sheets printed`;
      await workFarm(
        {
          database,
          mounts: parseMounts(options.mount ?? []),
          limits: { read: options.reads, hash: options.hashes, decode: options.decodes, sheet: options.sheets },
          onJob: (kind, things) => {
            done[kind] += things;
            if (process.stderr.isTTY) process.stderr.write(`\r\u001b[2K${words()}`);
          },
          onTrouble: say,
        },
        gemel.getOptionValue('signal'),
      );
      process.stderr.write(`${process.stderr.isTTY ? '\n' : ''}worker stopped: ${words()}\n`);
      process.exitCode = EXIT.clear;
    });
}

function jobs(text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 1 || value > 256) throw new InvalidArgumentError('expected a whole number of jobs, 1 to 256');
  return value;
}
