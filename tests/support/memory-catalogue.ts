import type { Catalogue, SeenPlace } from '../../src/ports.ts';

/** A catalogue in memory. */
export class MemoryCatalogue implements Catalogue {
  readonly #places = new Map<string, SeenPlace>();
  readonly #kept = new Map<string, Map<string, string>>();

  async places(): Promise<ReadonlyMap<string, SeenPlace>> {
    return new Map(this.#places);
  }

  async notePlaces(seen: readonly SeenPlace[], gone: readonly string[]): Promise<void> {
    for (const file of gone) this.#places.delete(file);
    for (const place of seen) this.#places.set(place.file, place);
  }

  async find(kind: string, keys: readonly string[]): Promise<ReadonlyMap<string, string>> {
    const kept = this.#kept.get(kind);
    return new Map(keys.flatMap((key) => (kept?.has(key) === true ? [[key, kept.get(key) ?? '']] : [])));
  }

  async keep(kind: string, entries: ReadonlyMap<string, string>): Promise<void> {
    this.#kept.set(kind, new Map([...(this.#kept.get(kind) ?? []), ...entries]));
  }

  async forget(kind: string, keys: readonly string[]): Promise<void> {
    for (const key of keys) this.#kept.get(kind)?.delete(key);
  }

  async keys(kind: string): Promise<readonly string[]> {
    return [...(this.#kept.get(kind)?.keys() ?? [])].toSorted((a, b) => (a < b ? -1 : 1));
  }

  async tidy(): Promise<void> {}

  async close(): Promise<void> {}
}
