import { Buffer } from 'node:buffer';
import type { PlannedStill } from '../formats/sheet/content.ts';
import { stillKey } from '../formats/sheet/content.ts';
import type { Catalogue, FrameSource, ReadClipPath } from '../ports.ts';

/** What the board shows; small enough to keep, and then a day whose sheets stand needs no decoding at all. */
const KIND = 'still';

/** Stills for the board: those the sheets decode on the way, those an earlier run kept, and only then decoded for themselves. */
export class DayStills {
  readonly #wanted: ReadonlyMap<string, PlannedStill>;
  readonly #catalogue: Catalogue | undefined;
  readonly #contentOf: (clip: string) => string | undefined;
  readonly #found = new Map<string, Uint8Array>();
  readonly #fresh = new Set<string>();

  constructor(wanted: readonly PlannedStill[], catalogue: Catalogue | undefined, contentOf: (clip: string) => string | undefined) {
    this.#wanted = new Map(wanted.map((still) => [stillKey(still), still]));
    this.#catalogue = catalogue;
    this.#contentOf = contentOf;
  }

  /** The same source, of which the wanted stills are kept on their way. */
  keeping(source: FrameSource): FrameSource {
    return {
      stills: async (path, frames, widthPx, signal) => {
        const decoded = await source.stills(path, frames, widthPx, signal);
        frames.forEach((frame, index) => this.#take({ clip: path.clip.file, frame }, decoded[index]));
        return decoded;
      },
    };
  }

  /** All wanted stills that can be had. `locate` and `source` decode those that neither a sheet nor an earlier run did. */
  async all(source: FrameSource, locate: (clip: string) => ReadClipPath | undefined, widthPx: number, signal: AbortSignal): Promise<ReadonlyMap<string, Uint8Array>> {
    await this.#recall(widthPx);
    const absent = [...this.#wanted.values()].filter((still) => !this.#found.has(stillKey(still)));
    for (const clip of new Set(absent.map((still) => still.clip))) {
      const path = locate(clip);
      const frames = absent.flatMap((still) => (still.clip === clip ? [still.frame] : [])).toSorted((a, b) => a - b);
      // A clip that gives no picture leaves its box on the board empty, as on its sheet, which has said why.
      if (path !== undefined) await this.keeping(source).stills(path, frames, widthPx, signal).catch(() => signal.throwIfAborted());
    }
    await this.#keep(widthPx);
    return this.#found;
  }

  #take(still: PlannedStill, bytes: Uint8Array | undefined): void {
    const key = stillKey(still);
    if (bytes === undefined || !this.#wanted.has(key)) return;
    this.#found.set(key, bytes);
    this.#fresh.add(key);
  }

  async #recall(widthPx: number): Promise<void> {
    const absent = [...this.#wanted].filter(([key]) => !this.#found.has(key));
    const keys = new Map(absent.flatMap(([key, still]) => this.#keyOf(still, widthPx).map((kept) => [key, kept] as const)));
    const texts = (await this.#catalogue?.find(KIND, [...keys.values()])) ?? new Map<string, string>();
    for (const [key, kept] of keys) {
      const text = texts.get(kept);
      if (text !== undefined) this.#found.set(key, Buffer.from(text, 'base64'));
    }
  }

  async #keep(widthPx: number): Promise<void> {
    const entries = [...this.#fresh].flatMap((key) => {
      const still = this.#wanted.get(key);
      const bytes = this.#found.get(key);
      return still === undefined || bytes === undefined ? [] : this.#keyOf(still, widthPx).map((kept) => [kept, Buffer.from(bytes).toString('base64')] as const);
    });
    await this.#catalogue?.keep(KIND, new Map(entries));
  }

  #keyOf({ clip, frame }: PlannedStill, widthPx: number): readonly string[] {
    const content = this.#contentOf(clip);
    return content === undefined ? [] : [`${content} ${frame} ${widthPx}`];
  }
}
