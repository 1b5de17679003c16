import { formatTagged, parseTagged } from '../../formats/catalogue/tagged-json.ts';
import type { FoundFile } from '../../ports.ts';
import { signatureOf } from './content-name.ts';
import type { ReadMemory } from './read-options.ts';

const KIND = 'note';

/** What reports and sidecars said when they were last read, by file; and a way to add to it. */
export interface RememberedNotes<T> {
  recall(file: string): T | undefined;
  /** Holds what a file says until `keep`. */
  note(file: string, said: T): void;
  keep(): Promise<void>;
}

/** Recalls what files said that did not change since: same name, same size, same time of change. */
export async function rememberNotes<T>(files: readonly FoundFile[], memory: ReadMemory | undefined, isSaid: (value: unknown) => value is T): Promise<RememberedNotes<T>> {
  if (memory === undefined) return { recall: () => undefined, note: () => {}, keep: async () => {} };
  const { catalogue, readers } = memory;
  const keys = new Map(files.map((found) => [found.file, `${readers} ${signatureOf(found)} ${found.file}`]));
  const kept = await catalogue.find(KIND, [...keys.values()]);
  const fresh = new Map<string, string>();
  return {
    recall: (file) => {
      const text = kept.get(keys.get(file) ?? '');
      const said = text === undefined ? undefined : parseTagged(text);
      return isSaid(said) ? said : undefined;
    },
    note: (file, said) => {
      const key = keys.get(file);
      if (key !== undefined) fresh.set(key, formatTagged(said));
    },
    keep: async () => catalogue.keep(KIND, fresh),
  };
}
