import { UsageError } from '../core/material/errors.ts';
import { EXIT } from './exit-codes.ts';
import { say } from './say.ts';

/** Prints why gemel could not do its job and sets exit code 2: plain words for what a user can mend, a stack for what we must. */
export function fail(problem: unknown): void {
  process.exitCode = EXIT.failed;
  if (problem instanceof UsageError) {
    for (const line of problem.problems) say(line);
    return;
  }
  if (isOwnOrSystem(problem)) {
    say(problem.message);
    return;
  }
  const text = problem instanceof Error ? (problem.stack ?? problem.message) : String(problem);
  say('this is a fault of gemel itself, please report it with the lines below.');
  for (const line of text.split('\n')) say(line);
}

/** Errors with a system code (no space, no permission) carry a message people can use. */
function isOwnOrSystem(problem: unknown): problem is Error {
  return problem instanceof Error && 'code' in problem && typeof problem.code === 'string' && /^E[A-Z]+$/.test(problem.code);
}
