import type { Reader } from './byte-source.ts';
import { hex, MalformedError, u32, u64 } from './bytes.ts';
import type { Klv } from './mxf-klv.ts';
import { klvAt } from './mxf-klv.ts';

/** A partition pack (SMPTE ST 377-1, 7.1). Offsets count from the end of the run-in. */
export interface Partition {
  readonly kind: 'header' | 'body' | 'footer';
  /** `open`: its values may still change. `complete`: its metadata is all there. */
  readonly open: boolean;
  readonly metadataComplete: boolean;
  readonly thisPartition: number;
  readonly footerPartition: number;
  readonly headerBytes: number;
  readonly indexBytes: number;
  readonly operationalPattern: string;
  readonly essenceContainers: readonly string[];
  /** Where the pack stands in the file and where it ends. */
  readonly pack: Klv;
}

const PACK = '060e2b34020501010d01020101';
const KINDS: Readonly<Record<string, Partition['kind']>> = { '02': 'header', '03': 'body', '04': 'footer' };
const PACK_BYTES = 88;
/** A run-in may be up to 65535 bytes long (ST 377-1, 5.5). */
const RUN_IN_BYTES = 65_536;

/** Bytes before the header partition, or undefined when there is none to be found. */
export async function findRunIn(reader: Reader): Promise<number | undefined> {
  const length = Math.min(RUN_IN_BYTES + 16, reader.size);
  const near = Math.min(16, length);
  if (isHeaderKey(await reader.look(0, near), 0)) return 0;
  const bytes = await reader.look(0, length);
  for (let at = bytes.indexOf(0x06); at !== -1 && at + 16 <= bytes.length; at = bytes.indexOf(0x06, at + 1)) {
    if (isHeaderKey(bytes, at)) return at;
  }
  return undefined;
}

function isHeaderKey(bytes: Uint8Array, at: number): boolean {
  return hex(bytes.subarray(at, at + 14)) === `${PACK}02`;
}

/** The partition pack at an offset, or undefined when none stands there. @throws {MalformedError} when it is damaged. */
export async function partitionAt(reader: Reader, at: number): Promise<Partition | undefined> {
  const pack = await klvAt(reader, at);
  const kind = pack === undefined ? undefined : KINDS[pack.key.slice(26, 28)];
  if (pack === undefined || kind === undefined || !pack.key.startsWith(PACK)) return undefined;
  if (pack.end > reader.size || pack.end - pack.value < PACK_BYTES) {
    throw new MalformedError(`partition pack at byte ${at}`, `${pack.end - pack.value} bytes`, `at least ${PACK_BYTES}, inside the file`);
  }
  const bytes = await reader.look(pack.value, Math.min(pack.end - pack.value, 4096));
  const status = Number.parseInt(pack.key.slice(28, 30), 16);
  return {
    kind,
    open: status === 1 || status === 3,
    metadataComplete: status === 3 || status === 4,
    thisPartition: u64(bytes, 8),
    footerPartition: u64(bytes, 24),
    headerBytes: u64(bytes, 32),
    indexBytes: u64(bytes, 40),
    operationalPattern: hex(bytes.subarray(64, 80)),
    essenceContainers: labels(bytes, 80),
    pack,
  };
}

/** A batch of universal labels: count, size of one, labels. */
function labels(bytes: Uint8Array, at: number): string[] {
  const count = Math.min(u32(bytes, at), Math.floor((bytes.length - at - 8) / 16));
  return Array.from({ length: count }, (_, index) => hex(bytes.subarray(at + 8 + index * 16, at + 24 + index * 16)));
}

/**
 * Offset of the last partition by the random index pack at the very end of the file (ST 377-1, 12), or undefined when the
 * file has none: it is optional, and the first thing a cut-off copy loses.
 */
export async function lastIndexedPartition(reader: Reader): Promise<number | undefined> {
  if (reader.size < 40) return undefined;
  const length = u32(await reader.peek(reader.size - 4, 4), 0);
  if (length < 37 || length > Math.min(reader.size, 1024 * 1024)) return undefined;
  const key = hex((await reader.peek(reader.size - length, 16)).subarray(0, 16));
  if (key !== '060e2b34020501010d01020101110100') return undefined;
  // Entries are 12 bytes, body SID then offset; the last is followed by the length alone.
  return u64(await reader.peek(reader.size - 12, 8), 0);
}
