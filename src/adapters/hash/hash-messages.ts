import type { HashFormat } from '../../formats/mhl/hash-format.ts';
import type { HashedFile } from '../../ports.ts';

/** What a hashing thread is started with: a flag that is set to stop it, and whether native code may be used. */
export interface ThreadSetUp {
  readonly stop: Int32Array<SharedArrayBuffer>;
  readonly useNative: boolean;
}

export interface HashOrder {
  readonly path: string;
  readonly formats: readonly HashFormat[];
}

/** One order brings any number of `read`, then exactly one of the others. */
export type HashAnswer =
  | { readonly kind: 'read'; readonly bytes: number }
  | { readonly kind: 'hashed'; readonly hashed: HashedFile }
  | { readonly kind: 'stopped' }
  | { readonly kind: 'failed'; readonly message: string; readonly code: string | undefined };
