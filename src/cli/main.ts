import { Command, CommanderError } from 'commander';
import { addCatalogue } from './commands/catalogue.ts';
import { addCheck } from './commands/check.ts';
import { addDemo } from './commands/demo.ts';
import { addDoctor } from './commands/doctor.ts';
import { addRead } from './commands/read.ts';
import { addReceive } from './commands/receive.ts';
import { addRun } from './commands/run.ts';
import { addSplit } from './commands/split.ts';
import { addTurnover } from './commands/turnover.ts';
import { addWatch } from './commands/watch.ts';
import { addWorker } from './commands/worker.ts';
import { EXIT } from './exit-codes.ts';
import { fail } from './fail.ts';
import { gemelVersion } from '../pipeline/assets.ts';

const AFTER_HELP = `
Examples:
  gemel check /Volumes/DAY_04                    every set-up of a day: can the set be struck?
  gemel check A014_K3QX reports --out day-04     a card and the papers beside it
  gemel run pipelines/show.yaml                  the same, as the show's pipeline file says
  gemel watch pipelines/show.yaml                the same, for ever, while cards land
  gemel turnover pipelines/show.yaml --cut v1.edl --out t1   the sealed package for a cut
  gemel receive t1                               the vendor's check of a package, with a receipt
  gemel read A014C002_261124_K3QX.mov            what one clip says of itself, and where
  gemel split A014C002.mov A014C003.mov          do two passes join along a line, and where?
  gemel demo                                     the main job on the sample day that comes along

Exit codes: 0 all clear, 1 at least one finding that stops a set, 2 gemel could not do its job.

gemel only ever reads your media. It is no offload tool: never erase a card on its word.
It judges plates and clears nothing for safety: follow the responsible crew and the local rules.`;

function program(): Command {
  const gemel = new Command('gemel')
    .description('Matches lead, swapped and clean passes of shots in which one performer plays two roles, and says whether the set can be struck.')
    .version(gemelVersion(), '-V, --version')
    .addHelpText('after', AFTER_HELP)
    .exitOverride();
  for (const add of [addCheck, addRun, addWatch, addWorker, addTurnover, addReceive, addRead, addCatalogue, addSplit, addDoctor, addDemo]) add(gemel);
  for (const command of gemel.commands) command.exitOverride();
  return gemel;
}

/** One signal for everything that waits: Ctrl-C stops child programs and leaves no half-written file. */
function stopSignal(): AbortSignal {
  const controller = new AbortController();
  for (const name of ['SIGINT', 'SIGTERM'] as const) {
    process.once(name, () => {
      process.exitCode = EXIT.failed;
      controller.abort(new Error('stopped'));
    });
  }
  return controller.signal;
}

try {
  const signal = stopSignal();
  const gemel = program();
  gemel.setOptionValue('signal', signal);
  await gemel.parseAsync(process.argv);
} catch (problem) {
  if (problem instanceof CommanderError) process.exitCode = problem.exitCode === 0 ? EXIT.clear : EXIT.failed;
  else fail(problem);
}
