import { Command, CommanderError } from 'commander';
import { UsageError } from '../core/material/errors.ts';
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

/** In the order of the help. Each brings along what it needs and no more: a start should not wait for what it will not use. */
const COMMANDS: Readonly<Record<string, () => Promise<(gemel: Command) => void>>> = {
  check: async () => (await import('./commands/check.ts')).addCheck,
  run: async () => (await import('./commands/run.ts')).addRun,
  watch: async () => (await import('./commands/watch.ts')).addWatch,
  worker: async () => (await import('./commands/worker.ts')).addWorker,
  turnover: async () => (await import('./commands/turnover.ts')).addTurnover,
  receive: async () => (await import('./commands/receive.ts')).addReceive,
  read: async () => (await import('./commands/read.ts')).addRead,
  catalogue: async () => (await import('./commands/catalogue.ts')).addCatalogue,
  split: async () => (await import('./commands/split.ts')).addSplit,
  doctor: async () => (await import('./commands/doctor.ts')).addDoctor,
  demo: async () => (await import('./commands/demo.ts')).addDemo,
};

async function program(asked: string | undefined): Promise<Command> {
  const gemel = new Command('gemel')
    .description('Matches lead, swapped and clean passes of shots in which one performer plays two roles, and says whether the set can be struck.')
    .version(gemelVersion(), '-V, --version')
    .addHelpText('after', AFTER_HELP)
    .exitOverride();
  const one = asked !== undefined && Object.hasOwn(COMMANDS, asked) ? COMMANDS[asked] : undefined;
  for (const load of one === undefined ? Object.values(COMMANDS) : [one]) (await load())(gemel);
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

/** Whoever reads may stop early (`| head`): what is left is printed for nobody, and the exit code stays what it was to be. */
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (problem: NodeJS.ErrnoException) => {
    if (problem.code !== 'EPIPE') throw problem;
  });
}

const signal = stopSignal();
try {
  const gemel = await program(process.argv[2]);
  gemel.setOptionValue('signal', signal);
  await gemel.parseAsync(process.argv);
} catch (problem) {
  if (problem instanceof CommanderError) process.exitCode = problem.exitCode === 0 ? EXIT.clear : EXIT.failed;
  // Whatever breaks off while it is told to stop does so for that reason.
  else fail(signal.aborted ? new UsageError(['stopped']) : problem);
}
