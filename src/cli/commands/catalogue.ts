import { once } from 'node:events';
import type { Command } from 'commander';
import { UsageError } from '../../core/material/errors.ts';
import { exportCatalogue } from '../../pipeline/export-catalogue.ts';

const EXAMPLES = `
Examples:
  gemel catalogue day-04 > catalogue.jsonl
  gemel catalogue day-04 | jq -r 'select(.kind == "reading") | .value.file'

Reads only. A watch may go on with the catalogue meanwhile.`;

/** `gemel catalogue OUT`: what gemel keeps of the media it read, as JSON lines. */
export function addCatalogue(gemel: Command): void {
  gemel
    .command('catalogue')
    .argument('[out]', 'the output folder of a check, run or watch')
    .description('what gemel keeps of the media it read, as JSON, one thing a line')
    .option('--database <url>', 'the catalogue in this PostgreSQL database (or set GEMEL_DATABASE)')
    .addHelpText('after', EXAMPLES)
    .action(async (out: string | undefined, options: { readonly database?: string }) => {
      const database = options.database ?? (out === undefined ? process.env['GEMEL_DATABASE'] : undefined);
      if ((out === undefined) === (database === undefined)) throw new UsageError(['name the output folder whose catalogue to print, or a database: gemel catalogue OUT']);
      const signal: AbortSignal = gemel.getOptionValue('signal');
      for await (const line of exportCatalogue(database === undefined ? { out: out ?? '' } : { database }, signal)) {
        if (!process.stdout.write(line)) await once(process.stdout, 'drain', { signal });
      }
    });
}
