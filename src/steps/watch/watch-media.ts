import type { Clock, MediaListing, MediaStore } from '../../ports.ts';
import { Holding } from './holding.ts';
import { Settling } from './settling.ts';

/** What a watch tells while it goes on. */
export type WatchNews =
  | { readonly kind: 'looked'; readonly files: number; readonly waiting: number; readonly tookMs: number }
  | { readonly kind: 'working'; readonly files: number }
  | { readonly kind: 'done'; readonly tookMs: number }
  | { readonly kind: 'failed'; readonly reason: unknown; readonly againInMs: number }
  | { readonly kind: 'away'; readonly why: string };

/** Wakes a watch before its time is up, when the file system says that something happened. It may always stay silent. */
export interface Hints {
  wait(mostMs: number, signal: AbortSignal): Promise<void>;
}

export interface WatchPorts {
  readonly store: MediaStore;
  readonly clock: Clock;
  readonly hints: Hints;
  /** Judges the day from the files that have settled. `settled` cuts any listing down to them. */
  readonly work: (settled: (listing: MediaListing) => MediaListing) => Promise<void>;
  /** Why the media folders cannot be judged now (a volume was ejected); undefined when they can. Their results then stay as they are. */
  readonly away: (listing: MediaListing) => Promise<string | undefined>;
  /** Something besides the media that a day is made from: pipeline, corrections. Equal while they stay the same. */
  readonly besides: () => Promise<string>;
  readonly tell: (news: WatchNews) => void;
}

export interface WatchStart {
  readonly settleMs: number;
  /** Signatures of files that had come to rest in an earlier run, by file. */
  readonly known?: ReadonlyMap<string, string>;
  /** What the results that lie there were made from; undefined when there are none. */
  readonly madeFrom: string | undefined;
  /** Called when results were made, with what they were made from. */
  readonly noteMade: (madeFrom: string) => Promise<void>;
}

const LEAST_PAUSE_MS = 1000;
const MOST_PAUSE_MS = 30_000;
/** Looking takes a tenth of the time at most, and a quarter while files land or come to rest. */
const PAUSE_PER_LOOK = 10;
const LEAST_PAUSE_PER_LOOK = 3;
const MOST_RETRY_MS = 60_000;
/** Looking at a card or a day takes some seconds; a share that is gone may take for ever. */
const SLOW_LOOK_MS = 60_000;

/**
 * Watches media folders until the signal fires: looks again and again, and when what has settled differs from what the results
 * were made from, has them made anew. Whatever goes wrong in a round is told and tried again; only the signal ends it.
 */
export async function watchMedia(ports: WatchPorts, start: WatchStart, signal: AbortSignal): Promise<void> {
  const settling = new Settling(start.settleMs, start.madeFrom?.split(' ')[0], start.known);
  const holding = new Holding(start.madeFrom === undefined ? [] : [...(start.known?.keys() ?? [])]);
  let looks = 0;
  let madeFrom = start.madeFrom;
  let retryMs = LEAST_PAUSE_MS;
  while (!signal.aborted) {
    const began = ports.clock.nowMs();
    let pauseMs = LEAST_PAUSE_MS;
    let deafMs = 0;
    try {
      const listing = await toldWhenSlow(ports.store.list(signal), ports, signal);
      // A clock that is put back meanwhile would have the watch wait for hours.
      const tookMs = Math.max(0, ports.clock.nowMs() - began);
      pauseMs = pauseAfter(tookMs * PAUSE_PER_LOOK);
      deafMs = Math.min(MOST_PAUSE_MS, tookMs * LEAST_PAUSE_PER_LOOK);
      const away = await ports.away(listing);
      if (away !== undefined) {
        ports.tell({ kind: 'away', why: away });
      } else {
        const settled = settling.look(listing, ports.clock.nowMs());
        looks += 1;
        if (settled.waiting.length > 0) pauseMs = pauseAfter(tookMs * LEAST_PAUSE_PER_LOOK);
        ports.tell({ kind: 'looked', files: listing.files.length, waiting: settled.waiting.length, tookMs });
        const wanted = `${settled.state} ${await ports.besides()}`;
        if (wanted === madeFrom && looks === 1) holding.madeFrom(settled);
        // What is new to a watch needs a second look before it counts: results made before would leave out what was there all the time.
        if (wanted !== madeFrom && looks > 1 && !holding.isHeld(settled, ports.clock.nowMs())) {
          // A round that fails may leave results of half a day: then even what they were made from before must be made again.
          madeFrom = undefined;
          await makeAnew(settling, ports, settled.listing.files.length);
          madeFrom = wanted;
          holding.madeFrom(settled);
          await start.noteMade(wanted);
        }
      }
      retryMs = LEAST_PAUSE_MS;
    } catch (reason) {
      if (signal.aborted) return;
      ports.tell({ kind: 'failed', reason, againInMs: retryMs });
      pauseMs = retryMs;
      retryMs = Math.min(MOST_RETRY_MS, retryMs * 2);
    }
    // While a card lands, hints come all the time.
    if (deafMs > 0) await ports.clock.pause(deafMs, signal).catch(() => {});
    await ports.hints.wait(Math.max(0, pauseMs - deafMs), signal).catch(() => {});
  }
}

/** The listing; and word of it when it is long in coming, for otherwise nobody would know. */
async function toldWhenSlow(listing: Promise<MediaListing>, { clock, tell }: WatchPorts, signal: AbortSignal): Promise<MediaListing> {
  const listed = new AbortController();
  void clock.pause(SLOW_LOOK_MS, AbortSignal.any([signal, listed.signal])).then(
    () => tell({ kind: 'away', why: 'the media folders have not answered for a minute: a share may be slow or gone; the results stay as they are until it answers' }),
    () => {},
  );
  try {
    return await listing;
  } finally {
    listed.abort();
  }
}

function pauseAfter(milliseconds: number): number {
  return Math.min(MOST_PAUSE_MS, Math.max(LEAST_PAUSE_MS, milliseconds));
}

async function makeAnew(settling: Settling, { clock, tell, work }: WatchPorts, files: number): Promise<void> {
  const began = clock.nowMs();
  tell({ kind: 'working', files });
  // Files that settled while the day was begun wait for the next round; one that changed since is left out.
  await work((listing) => settling.settledOf(listing, began).listing);
  tell({ kind: 'done', tookMs: clock.nowMs() - began });
}
