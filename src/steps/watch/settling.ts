import type { FoundFile, MediaListing } from '../../ports.ts';
import { textDigest } from '../../formats/catalogue/digest.ts';
import { mediaKindOf } from '../../formats/media/media-kind.ts';
import { isIgnoredName } from '../../formats/media/sequence-name.ts';

/** Two looks at the same thing a moment apart are one look. */
const APART_MS = 900;

/** What was seen of one file: its size and time, since when, and whether a later look (or an earlier run) found it the same. */
interface Sight {
  readonly signature: string;
  readonly sinceMs: number;
  readonly confirmed: boolean;
}

/** Since ever: at rest in an earlier run. */
const LONG_AGO = Number.NEGATIVE_INFINITY;

/** The part of a listing that has come to rest. */
export interface Settled {
  readonly listing: MediaListing;
  /** Files that are there and have not come to rest. */
  readonly waiting: readonly string[];
  /** Equal for equal settled files: what a day was made from. */
  readonly state: string;
}

/**
 * Tells which files have come to rest. A file has when its size and time stayed the same for the settling time while somebody
 * looked, or when it was changed longer ago than that and a second look finds it the same; a picture of a sequence only with all
 * its neighbours of the same name, for a sequence grows by new files. Copy programs may keep the old time of change, and clocks
 * of servers run apart: nothing is settled at first sight unless it is known from before.
 */
export class Settling {
  readonly #settleMs: number;
  readonly #earlier: string | undefined;
  readonly #known: ReadonlyMap<string, string>;
  #sights: ReadonlyMap<string, Sight> | undefined;

  /** `earlier` is the state an earlier run ended with: what is still just so has not moved. `known` are signatures of files that had come to rest by then. */
  constructor(settleMs: number, earlier?: string, known: ReadonlyMap<string, string> = new Map()) {
    this.#settleMs = settleMs;
    this.#earlier = earlier;
    this.#known = known;
  }

  /** Takes a look. Looks must come in order of time. */
  look(whole: MediaListing, nowMs: number): Settled {
    const listing = withoutUnfinished(whole);
    const before = this.#sights;
    const unmoved = before === undefined && this.#earlier !== undefined && stateOf(listing.files, listing.unreachable) === this.#earlier;
    this.#sights = new Map(
      listing.files.map((found) => [found.file, unmoved ? { signature: signatureOf(found), sinceMs: LONG_AGO, confirmed: true } : this.#sight(found, before?.get(found.file), nowMs)]),
    );
    return this.settledOf(listing, nowMs);
  }

  /** What of a listing is at rest as it was last looked at; a file that changed since is not. */
  settledOf(whole: MediaListing, nowMs: number): Settled {
    const { files, unreachable } = withoutUnfinished(whole);
    const restless = new Set(files.filter((found) => !this.#isAtRest(found, nowMs)).map(groupOf));
    const settled = files.filter((found) => !restless.has(groupOf(found)));
    const waiting = files.filter((found) => restless.has(groupOf(found))).map(({ file }) => file);
    return { listing: { files: settled, unreachable }, waiting, state: stateOf(settled, unreachable) };
  }

  #sight(found: FoundFile, before: Sight | undefined, nowMs: number): Sight {
    const signature = signatureOf(found);
    if (before === undefined && this.#known.get(found.file) === signature) return { signature, sinceMs: LONG_AGO, confirmed: true };
    if (before?.signature !== signature) return { signature, sinceMs: nowMs, confirmed: this.#settleMs === 0 };
    // The clock was put back: what it said before would hold the file up until it says so again.
    if (before.sinceMs > nowMs) return { ...before, sinceMs: nowMs };
    return before.confirmed || nowMs - before.sinceMs < APART_MS ? before : { ...before, confirmed: true };
  }

  #isAtRest(found: FoundFile, nowMs: number): boolean {
    const sight = this.#sights?.get(found.file);
    if (sight === undefined || sight.signature !== signatureOf(found) || !sight.confirmed) return false;
    return nowMs - Math.min(sight.sinceMs, found.modifiedMs) >= this.#settleMs;
  }
}

/** A file counts when it gets its own name, however long it lies under a copy program's. */
function withoutUnfinished({ files, unreachable }: MediaListing): MediaListing {
  return { files: files.filter(({ file }) => !isIgnoredName(file.slice(file.lastIndexOf('/') + 1))), unreachable };
}

/** Size and time of change in one word. */
export function signatureOf({ sizeBytes, modifiedMs }: FoundFile): string {
  return `${sizeBytes}-${modifiedMs}`;
}

/** A picture belongs to all of the same folder and name but for its numbers; every other file stands alone. */
function groupOf({ file }: FoundFile): string {
  const kind = mediaKindOf(file);
  return kind === 'picture' || kind === 'raw-picture' ? file.replaceAll(/\d+/gu, '#') : file;
}

function stateOf(files: readonly FoundFile[], unreachable: MediaListing['unreachable']): string {
  const lines = [...files.map((found) => `${found.file} ${signatureOf(found)}`), ...unreachable.map(({ file, kind }) => `${file} ${kind}`)];
  return textDigest(lines.toSorted().join('\n'));
}
