import { UsageError } from '../core/material/errors.ts';
import { EXIT } from './exit-codes.ts';

/** Prints why gemel could not do its job and sets exit code 2: plain words for what a user can mend, a stack for what we must. */
export function fail(problem: unknown): void {
  process.exitCode = EXIT.failed;
  if (problem instanceof UsageError) {
    for (const line of problem.problems) process.stderr.write(`gemel: ${line}\n`);
    return;
  }
  if (isOwnOrSystem(problem)) {
    process.stderr.write(`gemel: ${problem.message}\n`);
    return;
  }
  const text = problem instanceof Error ? (problem.stack ?? problem.message) : String(problem);
  process.stderr.write(`gemel: this is a fault of gemel itself, please report it with the lines below.\n${text}\n`);
}

/** Errors with a system code (no space, no permission) carry a message people can use. */
function isOwnOrSystem(problem: unknown): problem is Error {
  return problem instanceof Error && 'code' in problem && typeof problem.code === 'string' && /^E[A-Z]+$/.test(problem.code);
}
