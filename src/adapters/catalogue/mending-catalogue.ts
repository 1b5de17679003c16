import type { Catalogue, SeenPlace } from '../../ports.ts';
import { isDamage, openSqliteCatalogue } from './open-sqlite-catalogue.ts';

/**
 * A catalogue in a file that may be damaged while it is open: whoever meets that has the file put aside and a new one begun, and is
 * answered from there. All that was in it can be worked out again from the media.
 */
export class MendingCatalogue implements Catalogue {
  readonly #path: string;
  readonly #job: string;
  readonly #tell: (warning: string) => void;
  /** The catalogue in use; another after each mending. */
  #open: Promise<Catalogue>;

  private constructor(path: string, job: string, tell: (warning: string) => void) {
    this.#path = path;
    this.#job = job;
    this.#tell = tell;
    this.#open = this.#begin();
  }

  /** `tell` hears, now and later, of a file that had to be put aside. @throws {NewerCatalogueError} when a newer gemel made it. */
  static async open(path: string, job: string, tell: (warning: string) => void): Promise<MendingCatalogue> {
    const catalogue = new MendingCatalogue(path, job, tell);
    await catalogue.#open;
    return catalogue;
  }

  async places(): Promise<ReadonlyMap<string, SeenPlace>> {
    return this.#ask(async (catalogue) => catalogue.places());
  }

  async notePlaces(seen: readonly SeenPlace[], gone: readonly string[]): Promise<void> {
    return this.#ask(async (catalogue) => catalogue.notePlaces(seen, gone));
  }

  async find(kind: string, keys: readonly string[]): Promise<ReadonlyMap<string, string>> {
    return this.#ask(async (catalogue) => catalogue.find(kind, keys));
  }

  async keep(kind: string, entries: ReadonlyMap<string, string>): Promise<void> {
    return this.#ask(async (catalogue) => catalogue.keep(kind, entries));
  }

  async forget(kind: string, keys: readonly string[]): Promise<void> {
    return this.#ask(async (catalogue) => catalogue.forget(kind, keys));
  }

  async keys(kind: string): Promise<readonly string[]> {
    return this.#ask(async (catalogue) => catalogue.keys(kind));
  }

  async tidy(day: number, keepDays: number): Promise<void> {
    return this.#ask(async (catalogue) => catalogue.tidy(day, keepDays));
  }

  async close(): Promise<void> {
    const catalogue = await this.#open.catch(() => undefined);
    await catalogue?.close();
  }

  async #ask<T>(question: (catalogue: Catalogue) => Promise<T>): Promise<T> {
    const asked = this.#open;
    const catalogue = await asked.catch(() => undefined);
    try {
      if (catalogue !== undefined) return await question(catalogue);
    } catch (problem) {
      // Whoever asked the same one may have met the damage first, and closed it.
      if (asked === this.#open && !isDamage(problem)) throw problem;
    }
    if (asked === this.#open) this.#open = this.#mend(asked);
    return question(await this.#open);
  }

  async #mend(damaged: Promise<Catalogue>): Promise<Catalogue> {
    await damaged.then(async (catalogue) => catalogue.close()).catch(() => {});
    return this.#begin();
  }

  async #begin(): Promise<Catalogue> {
    const { catalogue, warnings } = await openSqliteCatalogue(this.#path, this.#job);
    for (const warning of warnings) this.#tell(warning);
    return catalogue;
  }
}
