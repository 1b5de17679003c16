import type { MediaListing, MediaStore, OpenFile } from '../ports.ts';

/** A store that shows only part of what is there: a watch shows what has settled. Reading is as ever. */
export class SettledStore implements MediaStore {
  readonly #store: MediaStore;
  readonly #settled: (listing: MediaListing) => MediaListing;

  constructor(store: MediaStore, settled: (listing: MediaListing) => MediaListing) {
    this.#store = store;
    this.#settled = settled;
  }

  async list(signal: AbortSignal): Promise<MediaListing> {
    return this.#settled(await this.#store.list(signal));
  }

  async open(path: string, signal: AbortSignal): Promise<OpenFile> {
    return this.#store.open(path, signal);
  }

  async readBytes(path: string, start: number, length: number, signal: AbortSignal): Promise<Uint8Array> {
    return this.#store.readBytes(path, start, length, signal);
  }

  async readWhole(path: string, maxBytes: number, signal: AbortSignal): Promise<Uint8Array> {
    return this.#store.readWhole(path, maxBytes, signal);
  }
}
