import type { ReadClip } from './core/material/clip.ts';
import type { RepeatCardContent } from './formats/sheet/repeat-card.ts';
import type { SheetContent } from './formats/sheet/content.ts';
import type { XmlElement } from './formats/sidecars/xml-element.ts';

export type { XmlElement };

/** One file found in the media folders. `path` is absolute; `file` is relative to the media root with "/" between folders. */
export interface FoundFile {
  readonly path: string;
  readonly file: string;
  readonly sizeBytes: number;
  readonly modifiedMs: number;
}

/** A folder or file that was not looked into, why, and what to do. `link` and `no-file` are worth a note; behind the others a clip may hide. */
export interface Unreachable {
  readonly file: string;
  readonly kind: 'denied' | 'name' | 'link' | 'no-file' | 'too-much';
  readonly reason: string;
  readonly remedy: string;
}

/** What lies in the media folders, both lists sorted by file in code units. */
export interface MediaListing {
  readonly files: readonly FoundFile[];
  readonly unreachable: readonly Unreachable[];
}

/** A file held open for reading. `read` gives fewer bytes at the end of the file. */
export interface OpenFile {
  readonly size: number;
  readonly modifiedMs: number;
  read(offset: number, length: number): Promise<Uint8Array>;
  /** Whether its size or time of change differs from what it was when opened. */
  hasChanged(): Promise<boolean>;
  close(): Promise<void>;
}

/** Lists and reads files. Never writes below a media root: there is no method that could. */
export interface MediaStore {
  list(signal: AbortSignal): Promise<MediaListing>;
  /** @throws {UnreachableFileError} when the system refuses. */
  open(path: string, signal: AbortSignal): Promise<OpenFile>;
  /** Bytes `start` to `start + length` (fewer at the end of the file). @throws {UnreachableFileError} when the system refuses. */
  readBytes(path: string, start: number, length: number, signal: AbortSignal): Promise<Uint8Array>;
  /** A whole small file. @throws {UnreachableFileError} above `maxBytes`, or when the system refuses. */
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

/**
 * An XML document to a plain tree; bytes are read by their byte order mark, else their declaration, else as UTF-8.
 * @throws {UnreadableXmlError} on anything that is not well formed, and on document types (entity bombs).
 */
export interface XmlReader {
  parse(document: string | Uint8Array): XmlElement;
}

/** Still pictures of one clip, decoded in one go. `frames` are counted from the clip's first frame; answers in the same order, undefined where none could be decoded (in a sequence, also where the numbering has a hole). */
export interface FrameSource {
  stills(clip: ReadClipPath, frames: readonly number[], widthPx: number, signal: AbortSignal): Promise<readonly (Uint8Array | undefined)[]>;
}

/**
 * A clip and where its bytes lie: the absolute path of the movie, or that of a sequence with the "####" of its file name.
 * `rateText` is its rate as `formatRate` writes it ("24000/1001"); without it frames far into a movie take a decode of all before.
 */
export interface ReadClipPath {
  readonly clip: Pick<ReadClip, 'file' | 'kind' | 'sequence'>;
  readonly path: string;
  readonly rateText: string | undefined;
}

/** Draws one printed page or set of pages as a PDF file. Equal contents and stills give equal bytes. `stills` are JPEG or PNG files by `stillKey`. */
export interface SheetPrinter {
  print(content: SheetContent | RepeatCardContent, stills: ReadonlyMap<string, Uint8Array>): Promise<Uint8Array>;
}

/** Takes what gemel makes. `file` is relative to the output folder, "/" between folders; a file is whole or absent, an older one of that name is replaced. */
export interface OutputFolder {
  write(file: string, bytes: Uint8Array): Promise<void>;
}

/** Progress of long work; the command line draws it, tests ignore it. */
export interface Progress {
  start(task: string, totalFiles: number, totalBytes: number): void;
  advance(files: number, bytes: number): void;
  done(): void;
}

/** Time, handed in so that tests need not wait. */
export interface Clock {
  /** Milliseconds since 1970, as file systems count them. */
  nowMs(): number;
  pause(milliseconds: number, signal: AbortSignal): Promise<void>;
}
