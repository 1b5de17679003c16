import type { Command } from 'commander';
import { InvalidArgumentError, Option } from 'commander';
import type { HashFormat } from '../../formats/mhl/hash-format.ts';
import { PULL_FORMATS } from '../../formats/media/pull-format.ts';
import type { PullFormat } from '../../formats/media/pull-format.ts';
import { formatTurnoverTable } from '../../formats/terminal/turnover-table.ts';
import { loadConfig } from '../../pipeline/load-config.ts';
import type { TurnoverOutcome } from '../../pipeline/turnover-day.ts';
import { turnoverDay } from '../../pipeline/turnover-day.ts';
import { formatPlanned } from '../../pipeline/print-plan.ts';
import { EXIT } from '../exit-codes.ts';
import { formatBytes, progressLine } from '../progress-line.ts';
import { say } from '../say.ts';

const EXAMPLES = `
Examples:
  gemel turnover pipelines/show.yaml --cut cut_v1.edl --dry-run          what would go, as JSON; nothing is written
  gemel turnover pipelines/show.yaml --cut cut_v1.edl --out to-vendor/t1 --frames dpx --movies
  gemel turnover pipelines/show.yaml --cut cut_v2.edl --out to-vendor/t2 --frames dpx --movies

The second finds the first beside it and packages only what changed; frames already turned over keep their numbers. Without a cut
the shots come from the shot list. docs/turnover.md explains the package.

Exit codes: 0 every shot is packaged or unchanged, 1 some shots cannot be turned over (they are listed), 2 no package could be made.`;

interface TurnoverFlags {
  readonly cut?: string[];
  readonly media?: string[];
  readonly out?: string;
  readonly previous?: string;
  readonly vendor?: string;
  readonly frames?: PullFormat;
  readonly movies?: boolean;
  readonly all?: boolean;
  readonly includeStopped?: boolean;
  readonly dryRun?: boolean;
  readonly hash: HashFormat[];
  readonly settle?: number;
}

/** `gemel turnover PIPELINE --cut FILE…`: the package for a cut, sealed. */
export function addTurnover(gemel: Command): void {
  gemel
    .command('turnover')
    .argument('<pipeline>', 'a pipeline file (YAML)')
    .description('build, seal and hand over the package for a cut')
    .option('--cut <file...>', 'edit decision lists (one a track or several tracks in one) or OpenTimelineIO files')
    .option('--media <folder...>', 'read these folders instead of those the pipeline names')
    .option('--out <folder>', "the package's own folder, which must not be there yet (default: turnovers/turnover_001, 002… in the pipeline's output folder)")
    .option('--previous <folder>', 'the package to compare with (default: the latest of the show that lies beside)')
    .option('--vendor <name>', 'only the shots of this vendor')
    .addOption(new Option('--frames <kind>', 'pull the frames too: 10 bit DPX, half-float EXR, 16 bit TIFF or PNG; colour is passed through').choices([...PULL_FORMATS]))
    .option('--movies', 'make reference movies with shot, pass, frame number and timecode burned in')
    .option('--all', 'package unchanged shots too')
    .option('--include-stopped', 'package shots that a finding stops, too; they stay listed and the exit code stays 1')
    .option('--dry-run', 'print what would be packaged as JSON and write nothing')
    .option('--hash <format...>', 'hashes of the seal, in one pass: xxh64, xxh128', hashes, DEFAULT_HASHES)
    .option('--settle <seconds>', 'a clip changed more recently than this may still be growing; 0 switches the test off', Number)
    .addHelpText('after', EXAMPLES)
    .action(async (pipeline: string, flags: TurnoverFlags) => {
      const loaded = await loadConfig(pipeline, {
        ...(flags.media === undefined ? {} : { media: flags.media }),
        ...(flags.cut === undefined ? {} : { cuts: flags.cut }),
        ...(flags.settle === undefined ? {} : { settleSeconds: flags.settle }),
      });
      const outcome = await turnoverDay(loaded, {
        out: flags.out, previous: flags.previous, onlyVendor: flags.vendor, pictures: flags.frames, movies: flags.movies === true, all: flags.all === true,
        includeStopped: flags.includeStopped === true, dryRun: flags.dryRun === true, hashes: flags.hash,
      }, progressLine(process.stderr, () => performance.now()), gemel.getOptionValue('signal'));
      process.stdout.write(flags.dryRun === true ? formatPlanned(outcome) : `${tableOf(outcome)}${madeLines(outcome)}`);
      for (const warning of [...outcome.warnings, ...outcome.failures]) say(warning);
      process.exitCode = isWhole(outcome) ? EXIT.clear : EXIT.stop;
    });
}

/**
 * Ordinary shots of the cut, and shots of the shot list that it does not use, belong in no turnover; whatever else is left out, could
 * not be decoded or may have been dropped for all that is known, is missing.
 */
function isWhole({ plan: { turnover }, failures }: TurnoverOutcome): boolean {
  const sure = turnover.shots.every(({ change }) => !change.kinds.includes('cannot tell'));
  return failures.length === 0 && sure && turnover.leftOut.every(({ kind }) => kind === 'ordinary' || kind === 'not-in-cut');
}

function tableOf({ plan }: TurnoverOutcome): string {
  return formatTurnoverTable(plan.turnover);
}

function madeLines({ folder, seal, plan, shots }: TurnoverOutcome): string {
  if (folder === undefined) return `\nNothing to package: ${nothingWords(plan.turnover)}.\n`;
  const pulled = shots.flatMap(({ passes }) => passes).reduce((sum, { pictures }) => sum + (pictures?.count ?? 0), 0);
  const lines = [
    `Package        ${folder}`,
    `Shots          ${shots.length}${pulled === 0 ? '' : `, ${pulled} frames`}`,
    ...(seal === undefined ? [] : [`Sealed         ${seal.files} files, ${formatBytes(seal.bytes)}, ${seal.manifest}`]),
  ];
  return `\n${lines.join('\n')}\n`;
}

function nothingWords({ shots, leftOut }: TurnoverOutcome['plan']['turnover']): string {
  if (shots.length === 0) return 'no shot can be turned over';
  return leftOut.some(({ kind }) => kind === 'untied') ? 'no shot that is sure needs other plates than it has' : 'no shot needs other plates than it has';
}

function hashes(name: string, before: HashFormat[] | undefined): HashFormat[] {
  const names = name.split(',');
  const known = names.filter((one): one is 'xxh64' | 'xxh128' => one === 'xxh64' || one === 'xxh128');
  if (known.length !== names.length) throw new InvalidArgumentError('expected xxh64, xxh128 or both');
  // The first one given replaces the default.
  const earlier = before === undefined || (before.length === 1 && before === DEFAULT_HASHES) ? [] : before;
  return [...new Set([...earlier, ...known])];
}

const DEFAULT_HASHES: HashFormat[] = ['xxh64'];
