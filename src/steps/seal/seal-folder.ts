import type { ReadingProblem } from '../../core/material/finding.ts';
import type { HashFormat } from '../../formats/mhl/hash-format.ts';
import type { Clock, Hasher, HistoryWriter, PackageStore, Progress, XmlReader } from '../../ports.ts';

export interface SealPorts {
  readonly store: PackageStore;
  readonly hasher: Hasher;
  readonly writer: HistoryWriter;
  readonly xml: XmlReader;
  readonly clock: Clock;
  readonly progress: Progress;
}

export interface SealOptions {
  /** At least one. Several cost one pass over the bytes. */
  readonly formats: readonly HashFormat[];
  readonly tool: { readonly name: string; readonly version: string };
  readonly hostname: string;
  readonly authors?: readonly { readonly name: string; readonly email?: string; readonly phone?: string; readonly role?: string }[];
  readonly location?: string;
  readonly comment?: string;
  /** `in-place`: hashed where it lies. `transfer`: written while copying. */
  readonly process?: 'in-place' | 'transfer';
  /** The folder's name as the manifest's file name carries it; without it the last part of the path. */
  readonly name?: string;
  /** Patterns to leave out besides those always left out, one .gitignore line each. */
  readonly ignore?: readonly string[];
}

/** `refused`: nothing was written, the problems say why. `sealed`: a generation was written; problems are what it found (altered, missing, new files). */
export interface Sealed {
  readonly kind: 'sealed' | 'refused';
  readonly generation: number;
  /** Relative to the folder, "ascmhl/0001_….mhl"; "" when refused. */
  readonly manifest: string;
  readonly files: number;
  readonly bytes: number;
  readonly problems: readonly ReadingProblem[];
}

/** Writes the next ASC MHL generation over a folder. `folder` is absolute. */
export async function sealFolder(folder: string, options: SealOptions, ports: SealPorts, signal: AbortSignal): Promise<Sealed> {
  signal.throwIfAborted();
  throw new Error(`not built yet: ${folder} ${options.formats.join()} ${ports.hasher.filesAtOnce}`);
}
