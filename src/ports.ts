import type { ReadClip } from './core/material/clip.ts';
import type { XmlElement } from './formats/sidecars/xml-element.ts';

export type { XmlElement };

/** One file found in the media folders. `path` is absolute; `file` is relative to the media root with "/" between folders. */
export interface FoundFile {
  readonly path: string;
  readonly file: string;
  readonly sizeBytes: number;
  readonly modifiedMs: number;
}

/** A folder or file that could not be looked into, and why. */
export interface Unreachable {
  readonly file: string;
  readonly reason: string;
}

/** Lists and reads files. Never writes below a media root: there is no method that could. */
export interface MediaStore {
  list(signal: AbortSignal): Promise<{ readonly files: readonly FoundFile[]; readonly unreachable: readonly Unreachable[] }>;
  /** Bytes `start` to `start + length` (fewer at the end of the file). */
  readBytes(path: string, start: number, length: number, signal: AbortSignal): Promise<Uint8Array>;
  /** A whole small file. @throws {FileTooLargeError} above `maxBytes`. */
  readWhole(path: string, maxBytes: number, signal: AbortSignal): Promise<Uint8Array>;
}

/** What another program says of a movie, as parsed JSON of that program; the pure parser lives in formats/. */
export interface ClipProbe {
  probe(path: string, signal: AbortSignal): Promise<unknown>;
}

/** What ExifTool says of a file: tags with group names, numbers unformatted. */
export interface TagReader {
  tags(path: string, signal: AbortSignal): Promise<Readonly<Record<string, unknown>>>;
  close(): Promise<void>;
}

/** XML text to a plain tree. @throws {UnreadableXmlError} on anything that is not well formed, and on document types (entity bombs). */
export interface XmlReader {
  parse(text: string): XmlElement;
}

/** Still pictures of one clip, decoded in one go. `frames` are counted from the clip's first frame; answers in the same order, undefined where none could be decoded. */
export interface FrameSource {
  stills(clip: ReadClipPath, frames: readonly number[], widthPx: number, signal: AbortSignal): Promise<readonly (Uint8Array | undefined)[]>;
}

/** A clip and where its bytes lie: the movie's path, or for a sequence its files in order. */
export interface ReadClipPath {
  readonly clip: Pick<ReadClip, 'file' | 'kind' | 'sequence'>;
  readonly path: string;
  readonly rateText: string | undefined;
}

/** Progress of long work; the command line draws it, tests ignore it. */
export interface Progress {
  start(task: string, totalFiles: number, totalBytes: number): void;
  advance(files: number, bytes: number): void;
  done(): void;
}
