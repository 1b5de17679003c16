import type { Command } from 'commander';
import { demoPipelinePath } from '../../pipeline/assets.ts';
import { loadConfig } from '../../pipeline/load-config.ts';
import type { DayOptions } from '../day-options.ts';
import { overridesOf, withDayOptions } from '../day-options.ts';
import { judgeDay } from '../judge-day.ts';

/** `gemel demo`: the main job on the sample day. */
export function addDemo(gemel: Command): void {
  withDayOptions(gemel.command('demo'))
    .description('the main job on the sample day of an invented production (some of its sets are broken on purpose)')
    .action(async (options: DayOptions) => {
      const loaded = await loadConfig(demoPipelinePath(), { out: 'gemel-out', ...overridesOf(options) });
      await judgeDay(loaded, options, gemel.getOptionValue('signal'));
    });
}
