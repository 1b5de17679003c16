import type { ByteSource, Reader } from './byte-source.ts';
import { READ_BUDGET_BYTES, readerOf } from './byte-source.ts';
import { MalformedError } from './bytes.ts';
import type { Container, FoundProblem, MediaFacts } from './media-facts.ts';
import { doubtful, EMPTY, mediaFacts } from './media-facts.ts';

/**
 * Runs a header reader so that nothing a file holds can throw: no bytes, or bytes that make no sense, come back as a condition.
 * Errors of the source itself (a card pulled out) go through.
 */
export async function readGuarded(container: Container, source: ByteSource, read: (reader: Reader) => Promise<MediaFacts>): Promise<MediaFacts> {
  if (source.size === 0) return mediaFacts({ container, completeness: EMPTY, values: [] });
  try {
    return await read(readerOf(source, READ_BUDGET_BYTES));
  } catch (error) {
    if (!(error instanceof MalformedError)) throw error;
    return unreadable(container, `its header is damaged: ${error.message}`);
  }
}

/** The facts of a file that is not what its name says. */
export function unreadable(container: Container, why: string): MediaFacts {
  return mediaFacts({ container, completeness: { condition: 'unreadable', complete: false, why }, values: [] });
}

/** The facts of a file that begins right and ends before it says anything. */
export function cutOff(container: Container, why: string): MediaFacts {
  return mediaFacts({ container, completeness: { condition: 'truncated', complete: false, why }, values: [] });
}

/** Reads one part of a file; when it is damaged, that costs its own facts only and is added to `problems`. */
export async function attempt<T>(place: string, problems: FoundProblem[], read: () => Promise<T>): Promise<T | undefined> {
  try {
    return await read();
  } catch (error) {
    if (!(error instanceof MalformedError)) throw error;
    problems.push(doubtful(`${place}, ${error.place}`, error.found, error.expected));
    return undefined;
  }
}
