import type { Field } from '../../core/material/statement.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import type { SidecarMapping } from '../../formats/sidecars/mapping.ts';
import type { FoundSequence } from './sort-files.ts';
import type { Catalogue, ClipProbe, Clock, FoundFile, MediaStore, Progress, TagReader, XmlReader } from '../../ports.ts';

/** What reading needs of the world. Without `probe` or `tags` it does with what gemel's own readers find. */
export interface ReadPorts {
  readonly store: MediaStore;
  readonly xml: XmlReader;
  readonly clock: Clock;
  readonly progress: Progress;
  readonly probe: ClipProbe | undefined;
  readonly tags: TagReader | undefined;
  /** Where readings are kept, so that a file that stays the same is read once. */
  readonly memory?: ReadMemory;
}

/** The catalogue, and a name for everything besides the files that decides how they are read: other readers, other readings. */
export interface ReadMemory {
  readonly catalogue: Catalogue;
  readonly readers: string;
  /** Has clips read elsewhere, each reading kept in the catalogue under its key; those that did not come about are read here. */
  readonly elsewhere?: (clips: readonly ClipElsewhere[], onDone: (clips: number) => void) => Promise<void>;
}

/** A clip to be read elsewhere: what was found, what it looked like, and the key its reading is kept under. */
export interface ClipElsewhere {
  readonly found: FoundFile | FoundSequence;
  readonly signature: string;
  readonly key: string;
}

/** What reading goes by. A pipeline's configuration satisfies it as it stands. */
export interface ReadOptions {
  /** Normalised heading → field. */
  readonly headings: Readonly<Record<string, Field>>;
  readonly mappings: readonly SidecarMapping[];
  /** A clip changed more recently than this is still growing unless its own header proves it whole; 0 switches the test off. */
  readonly settleSeconds: number;
  /** A shot list named apart, as a path; it then counts alone. */
  readonly shotList: string | undefined;
  /** Cuts named apart, as paths; they then count alone. */
  readonly cuts?: readonly string[];
  /** The rate the show is cut at, which an edit list does not carry. */
  readonly baseRate?: FrameRate | undefined;
}
