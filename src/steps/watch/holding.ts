import type { Settled } from './settling.ts';

/** A file that never comes to rest must not hold up the day. */
const MOST_HELD_MS = 60_000;

/**
 * Holds results back while a file they were made from is being written anew, such as a log that is saved again: made without it they
 * would be those of half a day.
 */
export class Holding {
  #files: ReadonlySet<string>;
  #sinceMs: number | undefined;

  /** `files` are those the results that stand were made from. */
  constructor(files: readonly string[]) {
    this.#files = new Set(files);
  }

  /** Notes that results were made from what had settled. */
  madeFrom({ listing }: Settled): void {
    this.#files = new Set(listing.files.map(({ file }) => file));
    this.#sinceMs = undefined;
  }

  /** Whether to wait for a file that has not come to rest again; for a minute at most. */
  isHeld({ waiting }: Settled, nowMs: number): boolean {
    if (!waiting.some((file) => this.#files.has(file))) {
      this.#sinceMs = undefined;
      return false;
    }
    this.#sinceMs = Math.min(this.#sinceMs ?? nowMs, nowMs);
    return nowMs - this.#sinceMs < MOST_HELD_MS;
  }
}
