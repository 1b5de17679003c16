import type { FSWatcher } from 'node:fs';
import { watch } from 'node:fs';
import { lstat, readdir } from 'node:fs/promises';
import { platform } from 'node:os';
import { join, sep } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { isClutter } from './passed-over.ts';

/** A burst of news is one piece of news: files land many at a time. */
const BURST_MS = 200;
/** Systems give a user some thousand watches; looking without hints does as well. */
const MOST_FOLDERS = 4000;

/**
 * Listens to what the operating system says of folders. Shares say nothing, and some systems lose news in a storm: it only ever
 * wakes somebody who looks for himself.
 */
export class FolderHints implements AsyncDisposable {
  readonly #watchers = new Map<string, FSWatcher>();
  #wake: (() => void) | undefined;
  #news = false;
  #ended = false;

  constructor(folders: readonly string[]) {
    // Linux watches no trees; asked to, the runtime would set a watch on every single file.
    const isTree = platform() !== 'linux';
    for (const folder of folders) {
      if (isTree) this.#listen(folder, { recursive: true });
      else void this.#listenBelow(folder);
    }
  }

  /** How many watches the system keeps for it. */
  get watches(): number {
    return this.#watchers.size;
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
    this.#ended = true;
    for (const watcher of this.#watchers.values()) watcher.close();
    this.#watchers.clear();
  }

  /** A watch on a folder and on each below it. */
  async #listenBelow(folder: string): Promise<void> {
    if (this.#ended || this.#watchers.size >= MOST_FOLDERS) return;
    this.#listen(folder, { recursive: false });
    const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
    for (const entry of entries) if (entry.isDirectory() && !isClutter(entry.name)) await this.#listenBelow(join(folder, entry.name));
  }

  async #lookAgain(path: string): Promise<void> {
    this.#forget(path);
    const facts = await lstat(path).catch(() => undefined);
    if (facts?.isDirectory() === true) await this.#listenBelow(path);
  }

  #listen(folder: string, { recursive }: { readonly recursive: boolean }): void {
    if (this.#watchers.has(folder)) return;
    try {
      const watcher = watch(folder, { recursive, persistent: false }, (kind, name) => {
        this.#news = true;
        this.#wake?.();
        // A folder may have come under that name, or another have taken its place.
        if (!recursive && kind === 'rename' && name !== null && !isClutter(name)) void this.#lookAgain(join(folder, name));
      });
      // Out of watches, or the folder is gone: looking goes on without hints.
      watcher.on('error', () => this.#forget(folder));
      this.#watchers.set(folder, watcher);
    } catch {
      // Looking goes on without hints.
    }
  }

  #forget(folder: string): void {
    if (!this.#watchers.has(folder)) return;
    for (const [path, watcher] of this.#watchers) {
      if (path !== folder && !path.startsWith(folder + sep)) continue;
      watcher.close();
      this.#watchers.delete(path);
    }
  }
}
