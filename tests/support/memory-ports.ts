import { UnreachableFileError } from '../../src/core/material/errors.ts';
import type { MediaListing, MediaStore, OpenFile, Unreachable } from '../../src/ports.ts';
import type { ReadOptions, ReadPorts } from '../../src/steps/read/read-options.ts';
import { FastXmlReader } from '../../src/adapters/xml/fast-xml-reader.ts';
import { defaultConfig } from './default-config.ts';

/** A file in memory. A refusal is what opening it throws; `grows` makes it longer at every opening. */
export interface MemoryFile {
  readonly bytes?: Uint8Array | string;
  readonly modifiedMs?: number;
  readonly refusal?: Error;
  readonly grows?: boolean;
  readonly hangs?: boolean;
}

/** Files in memory instead of on a disk, listed in the order given. */
export class MemoryStore implements MediaStore {
  readonly #files: Map<string, { bytes: Uint8Array; readonly file: MemoryFile }>;
  readonly #unreachable: readonly Unreachable[];
  /** How many files are held open. */
  held = 0;
  /** Files opened so far, in order, relative to the media root. */
  readonly opened: string[] = [];

  constructor(files: Readonly<Record<string, MemoryFile>>, unreachable: readonly Unreachable[] = []) {
    this.#files = new Map(Object.entries(files).map(([name, file]) => [`/media/${name}`, { bytes: bytesOf(file), file }]));
    this.#unreachable = unreachable;
  }

  async list(): Promise<MediaListing> {
    const files = [...this.#files].map(([path, { bytes, file }]) => ({ path, file: path.slice('/media/'.length), sizeBytes: bytes.length, modifiedMs: file.modifiedMs ?? 0 }));
    return { files, unreachable: this.#unreachable };
  }

  async open(path: string): Promise<OpenFile> {
    const entry = this.#files.get(path);
    if (entry === undefined) throw new UnreachableFileError('it is no longer there', 'wait');
    this.opened.push(path.slice('/media/'.length));
    if (entry.file.refusal !== undefined) throw entry.file.refusal;
    if (entry.file.hangs === true) return new Promise(() => {});
    if (entry.file.grows === true) entry.bytes = Buffer.concat([entry.bytes, Buffer.from('more')]);
    const { bytes, file } = entry;
    this.held++;
    return {
      size: bytes.length,
      modifiedMs: file.modifiedMs ?? 0,
      read: async (offset, length) => bytes.subarray(offset, offset + length),
      hasChanged: async () => bytes !== entry.bytes,
      close: async () => {
        this.held--;
      },
    };
  }

  async readBytes(path: string, start: number, length: number): Promise<Uint8Array> {
    const file = await this.open(path);
    await file.close();
    return file.read(start, length);
  }

  async readWhole(path: string): Promise<Uint8Array> {
    const file = await this.open(path);
    await file.close();
    return file.read(0, file.size);
  }
}

/** Ports over files in memory; other programs are absent unless given. The clock stands at `nowMs` and never waits. */
export function memoryPorts(store: MediaStore, over: Partial<ReadPorts> = {}, nowMs = 1_000_000): ReadPorts {
  return {
    store,
    xml: new FastXmlReader(),
    clock: { nowMs: () => nowMs, pause: async () => {} },
    progress: { start() {}, advance() {}, done() {} },
    probe: undefined,
    tags: undefined,
    ...over,
  };
}

/** How the default pipeline reads; nothing is judged by the time of change unless asked for. */
export function readOptions(over: Partial<ReadOptions> = {}): ReadOptions {
  const { headings, mappings } = defaultConfig();
  return { headings, mappings, settleSeconds: 0, shotList: undefined, ...over };
}

function bytesOf({ bytes = '' }: MemoryFile): Uint8Array {
  return typeof bytes === 'string' ? new TextEncoder().encode(bytes) : bytes;
}
