import type { Field } from '../../core/material/statement.ts';
import type { ClipProbe, MediaStore, TagReader } from '../../ports.ts';
import { gate } from './bounded.ts';
import type { ReadOptions, ReadPorts } from './read-options.ts';

/** What reading one clip needs. `others` lets few questions to other programs run at a time. */
export interface Readers {
  readonly store: MediaStore;
  readonly probe: ClipProbe | undefined;
  readonly tags: TagReader | undefined;
  readonly others: <R>(work: () => Promise<R>) => Promise<R>;
  readonly headings: Readonly<Record<string, Field>>;
}

/** Other programs keep a core busy each; more of them than this bring nothing on the two cores of a cart's laptop. */
const PROGRAMS_AT_ONCE = 2;

/** The readers of one day. */
export function readersOf({ store, probe, tags }: Pick<ReadPorts, 'store' | 'probe' | 'tags'>, { headings }: Pick<ReadOptions, 'headings'>): Readers {
  return { store, probe, tags, others: gate(PROGRAMS_AT_ONCE), headings };
}
