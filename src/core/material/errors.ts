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

/** A file or folder that the system would not open or read: `reason` in words, and what to do about it. */
export class UnreachableFileError extends Error {
  readonly reason: string;
  readonly remedy: string;

  constructor(reason: string, remedy: string, options?: ErrorOptions) {
    super(reason, options);
    this.name = 'UnreachableFileError';
    this.reason = reason;
    this.remedy = remedy;
  }
}

/** A sidecar that is not XML, or not XML gemel accepts. `line` counts from 1. */
export class UnreadableXmlError extends Error {
  readonly reason: string;
  readonly line: number | undefined;

  constructor(reason: string, line?: number, options?: ErrorOptions) {
    super(line === undefined ? reason : `line ${line}: ${reason}`, options);
    this.name = 'UnreadableXmlError';
    this.reason = reason;
    this.line = line;
  }
}
