import type { Reader } from './byte-source.ts';
import { MalformedError } from './bytes.ts';
import type { Completeness } from './media-facts.ts';
import type { Partition } from './mxf-partition.ts';
import { lastIndexedPartition, partitionAt } from './mxf-partition.ts';

/** Where the footer should stand in the file, who says so, and the footer itself when it does stand there. */
export interface FooterSearch {
  readonly expectedAt: number | undefined;
  readonly partition: Partition | undefined;
}

/** Looks for the footer where the header says, or else where the random index pack at the end says. */
export async function findFooter(reader: Reader, header: Partition, runIn: number): Promise<FooterSearch> {
  const offset = header.footerPartition > 0 ? header.footerPartition : await lastIndexedPartition(reader);
  if (offset === undefined) return { expectedAt: undefined, partition: undefined };
  const expectedAt = runIn + offset;
  const partition = await partitionIfSound(reader, expectedAt);
  return { expectedAt, partition: partition?.kind === 'footer' ? partition : undefined };
}

async function partitionIfSound(reader: Reader, at: number): Promise<Partition | undefined> {
  try {
    return await partitionAt(reader, at);
  } catch (error) {
    if (error instanceof MalformedError) return undefined;
    throw error;
  }
}

/**
 * Whether the file is whole. Other programs do not notice a cut-off MXF: its header states the full length, so nothing but the
 * absence of the footer shows it (FFmpeg 5.1 and ExifTool 13.59, measured on a file cut to a three-hundredth).
 */
export function completenessOf(header: Partition, { expectedAt, partition }: FooterSearch, size: number): Completeness {
  if (expectedAt === undefined) {
    return header.open
      ? { condition: 'open', complete: null, why: 'its header says it is still being written and no footer closes it: still growing, or broken off' }
      : { condition: 'unverified', complete: null, why: 'it has no footer and no index of its parts, so nothing in it can tell' };
  }
  if (partition === undefined) {
    const where = `its footer should stand at byte ${expectedAt}`;
    return { condition: 'truncated', complete: false, why: expectedAt >= size ? `${where}, the file ends at ${size}` : `${where}, but does not` };
  }
  const end = partition.pack.end + partition.headerBytes + partition.indexBytes;
  if (end > size) return { condition: 'truncated', complete: false, why: `its footer should reach byte ${end}, the file ends at ${size}` };
  return { condition: 'whole', complete: true, why: 'its footer stands where it should' };
}
