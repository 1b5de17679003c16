import type { Digests, HashFormat } from './hash-format.ts';

/** What a digest came of: the first ever recorded for its path, checked good against an earlier one, or found to differ. */
export type HashAction = 'original' | 'verified' | 'failed';

export interface RecordedDigest {
  readonly format: HashFormat;
  readonly value: string;
  /** Required on a file's digests; published manifests leave it out where it is missing here. */
  readonly action?: HashAction;
  /** As written (xs:dateTime). */
  readonly date?: string;
}

export interface FileRecord {
  readonly kind: 'file';
  /** Relative to the scope, "/" between folders. */
  readonly path: string;
  readonly sizeBytes?: number;
  /** As written (xs:dateTime). */
  readonly modified?: string;
  readonly digests: readonly RecordedDigest[];
  /** Its path in the generation before, when it was renamed or moved. */
  readonly previousPath?: string;
}

/** `content` changes with what is in a folder, `structure` with the names too. */
export interface FolderDigests {
  readonly content: Digests;
  readonly structure: Digests;
}

export interface FolderRecord extends FolderDigests {
  readonly kind: 'folder';
  readonly path: string;
  readonly modified?: string;
  readonly previousPath?: string;
}

export interface Author {
  readonly name: string;
  readonly email?: string;
  readonly phone?: string;
  readonly role?: string;
}

export type HashProcess = 'in-place' | 'transfer' | 'flatten';

/** Another history's manifest as it was when this one was written; `path` is relative to the scope. */
export interface ManifestReference {
  readonly path: string;
  readonly c4: string;
}

/** One generation of an ASC MHL history, format version 2.0. */
export interface Manifest {
  /** As written (xs:dateTime). */
  readonly created: string;
  readonly hostname: string;
  readonly tool: { readonly name: string; readonly version?: string };
  readonly authors: readonly Author[];
  readonly location?: string;
  readonly comment?: string;
  readonly process: HashProcess;
  readonly root?: FolderDigests;
  readonly ignore: readonly string[];
  readonly records: readonly (FileRecord | FolderRecord)[];
  readonly references: readonly ManifestReference[];
}

/** One line of `ascmhl_chain.xml`. `path` is the manifest's file name. */
export interface ChainEntry {
  readonly sequence: number;
  readonly path: string;
  readonly c4: string;
}

export const MANIFEST_NAMESPACE = 'urn:ASC:MHL:v2.0';
export const CHAIN_NAMESPACE = 'urn:ASC:MHL:DIRECTORY:v2.0';
/** The folder a history lies in, and its list of generations. */
export const HISTORY_FOLDER = 'ascmhl';
export const CHAIN_FILE = 'ascmhl_chain.xml';
/** Left out of every history, whatever a manifest says (the set the published manifests carry). */
export const ALWAYS_IGNORED = ['.DS_Store', 'ascmhl', 'ascmhl/'] as const;
