import type { Command } from 'commander';
import { loadConfig } from '../../pipeline/load-config.ts';
import type { DayOptions } from '../day-options.ts';
import { overridesOf, withDayOptions } from '../day-options.ts';
import { judgeDay } from '../judge-day.ts';

const EXAMPLES = `
Examples:
  gemel check /Volumes/DAY_04
  gemel check card-A014 card-B007 reports --out day-04 --paper Letter
  gemel check /Volumes/DAY_04 --json | jq '.sets[] | {id, verdict}'

Reads clips (MOV, MP4, MXF, EXR, DPX, TIFF, PNG, raw headers), XML sidecars, camera reports and script logs (CSV, TSV), shot
lists, move notes and corrections.yaml. Never writes into the folders it reads.`;

/** `gemel check DIR…`: no set-up, the default pipeline on these folders. */
export function addCheck(gemel: Command): void {
  withDayOptions(gemel.command('check').argument('<folder...>', 'folders with clips, sidecars, reports and logs'))
    .description('read folders and say of every set-up whether the set can be struck')
    .addHelpText('after', EXAMPLES)
    .action(async (folders: string[], options: DayOptions) => {
      const loaded = await loadConfig(undefined, { ...overridesOf(options), media: folders });
      await judgeDay(loaded, options, gemel.getOptionValue('signal'));
    });
}
