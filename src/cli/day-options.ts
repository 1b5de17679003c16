import type { Command } from 'commander';
import { InvalidArgumentError, Option } from 'commander';
import type { Overrides } from '../pipeline/load-config.ts';

/** Options that `check`, `run` and `demo` share. */
export interface DayOptions {
  readonly out?: string;
  readonly paper?: 'A4' | 'Letter';
  readonly sheets: boolean;
  readonly settle?: number;
  readonly json?: boolean;
  readonly verbose?: boolean;
  readonly verifyHashes?: boolean;
  readonly cut?: string[];
  /** False: do not look at pictures. */
  readonly picture: boolean;
}

/** Adds the options that every command for a single day takes. */
export function withDayOptions(command: Command): Command {
  return withStandingOptions(command)
    .option('--verify-hashes', 'read every card that carries an ASC MHL hash list through and hold it against that')
    .option('--no-picture', 'do not look at the pictures: no registration, exposure, split line, clean plate or sound')
    .option('--verbose', 'say of every finding all of what follows from it, its clips and where it was read')
    .option('--json', 'print report.json instead of the table');
}

/** Adds the options that a watch takes as well. */
export function withStandingOptions(command: Command): Command {
  return command
    .option('--out <folder>', 'where report.json, the board and the sheets go (default: ./gemel-out)')
    .addOption(new Option('--paper <size>', 'paper of the sheets').choices(['A4', 'Letter']))
    .option('--no-sheets', 'make no sheets and repeat cards, only the report and the board')
    .option('--settle <seconds>', 'a clip changed more recently than this may still be growing; 0 switches the test off', seconds)
    .option('--cut <file...>', 'the cut: EDL files (one a track, or several tracks in one) or OTIO files; else the one that lies among the media');
}

/** What the options say over the pipeline file. */
export function overridesOf(options: DayOptions): Overrides {
  return {
    ...(options.out === undefined ? {} : { out: options.out }),
    ...(options.paper === undefined ? {} : { paper: options.paper }),
    ...(options.settle === undefined ? {} : { settleSeconds: options.settle }),
    ...(options.cut === undefined ? {} : { cuts: options.cut }),
    ...(options.sheets ? {} : { sheets: false }),
    ...(options.picture === false ? { pictures: false } : {}),
    ...(options.verifyHashes === true ? { verifyHashes: true } : {}),
  };
}

function seconds(text: string): number {
  const value = Number(text);
  if (!Number.isFinite(value) || value < 0 || text.trim() === '') throw new InvalidArgumentError('expected a number of seconds, 0 or more');
  return value;
}
