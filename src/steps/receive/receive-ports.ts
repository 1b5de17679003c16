import type { OpenFile, PackageStore, Progress } from '../../ports.ts';

/** What receiving a package asks of the world. */
export interface ReceivePorts {
  readonly store: PackageStore;
  /** Opens a file for reading; never follows a link. */
  readonly open: (path: string, signal: AbortSignal) => Promise<OpenFile>;
  /** UTF-8 to text. */
  readonly decode: (bytes: Uint8Array) => string;
  readonly progress: Progress;
}
