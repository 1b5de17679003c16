import { formatDayTable, notJudgedLines } from '../formats/terminal/table.ts';
import type { LoadedConfig } from '../pipeline/load-config.ts';
import type { DayTools } from '../pipeline/run-day.ts';
import { runDay } from '../pipeline/run-day.ts';
import type { DayOptions } from './day-options.ts';
import { EXIT } from './exit-codes.ts';
import { formatBytes, progressLine } from './progress-line.ts';
import { printableJson, say } from './say.ts';

/** Runs the main job, prints what came of it and sets the exit code: what `check`, `run` and `demo` have in common. */
export async function judgeDay(loaded: LoadedConfig, options: DayOptions, signal: AbortSignal, tools: DayTools = {}): Promise<void> {
  const outcome = await runDay(loaded, progressLine(process.stderr, () => performance.now()), signal, tools);
  if (options.json === true) {
    process.stdout.write(printableJson(outcome.report));
  } else {
    process.stdout.write(formatDayTable(outcome.day, { ...terminal(), verbose: options.verbose === true }));
    process.stdout.write(`\n${[...cardLines(outcome.cards), ...madeLines(outcome.made), ...notJudgedLines(outcome.day)].join('\n')}\n`);
  }
  for (const warning of outcome.warnings) say(warning);
  const findings = [...outcome.day.findings, ...outcome.day.sets.flatMap((set) => set.findings)];
  process.exitCode = findings.some(({ severity }) => severity === 'stop') ? EXIT.stop : EXIT.clear;
}

/** How wide the terminal is and whether it shows colour; 100 columns and none when the output goes elsewhere. */
export function terminal(): { readonly width: number; readonly colour: boolean } {
  const columns = process.stdout.columns ?? Number(process.env['COLUMNS'] ?? 100);
  const width = Number.isSafeInteger(columns) && columns > 0 ? columns : 100;
  return { width, colour: process.stdout.isTTY === true && (process.env['NO_COLOR'] ?? '') === '' };
}

/** What was verified, for nobody should take silence for it. */
function cardLines(cards: { readonly histories: readonly string[]; readonly verifiedFiles: number; readonly hashedBytes: number } | undefined): readonly string[] {
  if (cards === undefined || cards.histories.length === 0) return [];
  return [`Hash lists     ${cards.verifiedFiles} files agree with theirs, ${formatBytes(cards.hashedBytes)} read (${cards.histories.join(', ')})`];
}

function madeLines(made: { readonly folder: string; readonly report: string; readonly board?: string; readonly sheets: number; readonly repeatCards: number }): readonly string[] {
  return [
    `Report         ${made.report}`,
    ...(made.board === undefined ? [] : [`Day board      ${made.board}`]),
    ...(made.sheets === 0 ? [] : [`Sheets         ${made.sheets} in ${made.folder}/sheets`]),
    ...(made.repeatCards === 0 ? [] : [`Repeat cards   ${made.repeatCards} in ${made.folder}/repeat-cards`]),
  ];
}
