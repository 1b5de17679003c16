/** One clip cannot be read at all; the day goes on. */
export class UnreadableClipError extends Error {
  readonly file: string;
  readonly place: string;
  readonly found: string;
  readonly expected: string;

  constructor(file: string, place: string, found: string, expected: string, options?: ErrorOptions) {
    super(`Cannot read clip ${file}${place === '' ? '' : ` (${place})`}: found ${found}, expected ${expected}`, options);
    this.name = 'UnreadableClipError';
    this.file = file;
    this.place = place;
    this.found = found;
    this.expected = expected;
  }
}

/** Arguments or a pipeline file are wrong. Lists every problem at once; exit code 2, no stack. */
export class UsageError extends Error {
  readonly problems: readonly string[];

  constructor(problems: readonly string[]) {
    super(problems.join('\n'));
    this.name = 'UsageError';
    this.problems = problems;
  }
}

/** Guards against our own bugs: exit code 2 with a stack. */
export function assert(condition: boolean, message: string): asserts condition {
  if (!condition) throw new Error(`gemel is wrong about itself: ${message}`);
}
