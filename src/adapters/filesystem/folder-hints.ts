import type { FSWatcher } from 'node:fs';
import { watch } from 'node:fs';
import { setTimeout as pause } from 'node:timers/promises';

/** A burst of news is one piece of news: files land many at a time. */
const BURST_MS = 200;

/**
 * Listens to what the operating system says of folders. Shares say nothing, and some systems lose news in a storm: it only ever
 * wakes somebody who looks for himself.
 */
export class FolderHints implements AsyncDisposable {
  readonly #watchers: readonly FSWatcher[];
  #wake: (() => void) | undefined;
  #news = false;

  constructor(folders: readonly string[], passOver: (name: string) => boolean = () => false) {
    this.#watchers = folders.flatMap((folder) => this.#listen(folder, passOver));
  }

  /** Resolves at the first news, or after `mostMs`. */
  async wait(mostMs: number, signal: AbortSignal): Promise<void> {
    if (!this.#news) {
      const woken = new AbortController();
      this.#wake = () => woken.abort();
      await pause(mostMs, undefined, { signal: AbortSignal.any([signal, woken.signal]) }).catch(() => {});
      this.#wake = undefined;
    }
    if (this.#news) await pause(Math.min(BURST_MS, mostMs), undefined, { signal }).catch(() => {});
    this.#news = false;
  }

  async [Symbol.asyncDispose](): Promise<void> {
    for (const watcher of this.#watchers) watcher.close();
  }

  #listen(folder: string, passOver: (name: string) => boolean): readonly FSWatcher[] {
    try {
      const watcher = watch(folder, { recursive: true, persistent: false }, (_kind, name) => {
        if (name !== null && passOver(name)) return;
        this.#news = true;
        this.#wake?.();
      });
      // Out of watches, or the folder is gone: looking goes on without hints.
      watcher.on('error', () => watcher.close());
      return [watcher];
    } catch {
      return [];
    }
  }
}
