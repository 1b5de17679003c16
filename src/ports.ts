import type { ReadClip } from './core/material/clip.ts';
import type { Raster } from './core/material/statement.ts';
import type { MatchPicture } from './core/picture/measure/match-picture.ts';
import type { MatchTask } from './core/picture/measure/match-task.ts';
import type { Digest, Digests, HashFormat } from './formats/mhl/hash-format.ts';
import type { PullFormat } from './formats/media/pull-format.ts';
import type { RepeatCardContent } from './formats/sheet/card-content.ts';
import type { SheetContent } from './formats/sheet/content.ts';
import type { XmlElement } from './formats/sidecars/xml-element.ts';
import type { FrameRange } from './core/timecode/range.ts';

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
  /** Of its pictures, as far as it is known: how much memory a decoder takes. */
  readonly raster?: Raster | undefined;
}

/** A clip whose pictures are measured. `squeeze` of the lens, where it is known; `frames` as the header counts them. */
export interface PictureClip {
  readonly at: ReadClipPath;
  readonly squeeze?: number;
  readonly frames?: number;
  /** Whether the camera must be followed through every frame, as one that moves must. */
  readonly everyFrame: boolean;
}

/** A lead and its passes to be measured; what each field means stands at `MatchTask`. */
export interface PictureOrder extends Omit<MatchTask, 'lead' | 'pass' | 'clean' | 'elements'> {
  readonly lead: PictureClip;
  readonly pass?: PictureClip;
  readonly clean?: PictureClip;
  readonly elements: readonly PictureClip[];
  /** Whether the four panels are asked for in one picture, too. */
  readonly wantsWhole?: boolean;
}

/** PNG pictures of a match: lead with the line, pass with the line, joined, difference; each, and where it was asked for, all in one. */
export interface ShownPicture {
  readonly panels: readonly Uint8Array[];
  readonly whole?: Uint8Array;
}

/** What was measured, and pictures of it. */
export interface PictureAnswer {
  readonly picture: MatchPicture;
  readonly shown?: ShownPicture;
}

/** Measures pictures, several orders at once; each decodes every clip of its matches once. */
export interface PictureMeter {
  readonly atOnce: number;
  /** The matches of one set, in order. A clip that cannot be decoded makes the answers that need it the reason why, in words. */
  measure(orders: readonly PictureOrder[], signal: AbortSignal): Promise<readonly (PictureAnswer | { readonly undecodable: string })[]>;
}

/** Draws one printed page or set of pages as a PDF file. Equal contents and stills give equal bytes. `stills` are JPEG or PNG files by `stillKey`. */
export interface SheetPrinter {
  print(content: SheetContent | RepeatCardContent, stills: ReadonlyMap<string, Uint8Array>): Promise<Uint8Array>;
}

/** Takes what gemel makes. `file` is relative to the output folder, "/" between folders; a file is whole or absent, an older one of that name is replaced. */
export interface OutputFolder {
  /** `madeOf` names everything the file was made of, for `holds`. */
  write(file: string, bytes: Uint8Array, madeOf?: string): Promise<void>;
  /** Whether the file of an earlier run still stands and was made of the same; it then counts as made. */
  holds(file: string, madeOf: string): Promise<boolean>;
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

/** Where a file lay, what it looked like there (size and time of change), and the name of its content when that was worked out. */
export interface SeenPlace {
  /** Relative to the media root, as in the report. */
  readonly file: string;
  readonly signature: string;
  readonly content: string | undefined;
}

/**
 * Keeps what was worked out, so that it need not be worked out again. Everything in it can be made anew from the media: whoever
 * asks must do without an answer. Several processes may use it at once.
 */
export interface Catalogue {
  /** The files seen so far, by file. */
  places(): Promise<ReadonlyMap<string, SeenPlace>>;
  /** Notes files seen and files gone, in one step. */
  notePlaces(seen: readonly SeenPlace[], gone: readonly string[]): Promise<void>;
  /** What is kept of one kind under some keys; keys that are not known are absent. */
  find(kind: string, keys: readonly string[]): Promise<ReadonlyMap<string, string>>;
  /** Keeps texts of one kind by key, in one step; an older text of a key is replaced. */
  keep(kind: string, entries: ReadonlyMap<string, string>): Promise<void>;
  /** Forgets keys of one kind; those that are not known do no harm. */
  forget(kind: string, keys: readonly string[]): Promise<void>;
  /** Keys kept of one kind, sorted. */
  keys(kind: string): Promise<readonly string[]>;
  /** Notes what was found and kept through this catalogue as used on a day (days since 1970), and forgets what nobody used for `keepDays` before it. */
  tidy(day: number, keepDays: number): Promise<void>;
  close(): Promise<void>;
}

/** One entry below a folder. `file` is relative to it with "/" between folders; `unnamed` is a name that is not valid UTF-8. */
export interface FolderEntry {
  readonly path: string;
  readonly file: string;
  readonly kind: 'file' | 'folder' | 'link' | 'unnamed' | 'other' | 'denied';
  /** 0 for anything but a file. */
  readonly sizeBytes: number;
  readonly modifiedMs: number;
}

/** Looks into a package or a card. Lists everything, hidden and empty folders too, sorted by file in code units; follows no link and writes nothing. */
export interface PackageStore {
  /** @throws {UnreachableFileError} when the folder itself cannot be listed; below it, what cannot is `denied`. */
  listAll(folder: string, signal: AbortSignal): Promise<readonly FolderEntry[]>;
  /** A whole small file. @throws {UnreachableFileError} above `maxBytes`, or when the system refuses. */
  readWhole(path: string, maxBytes: number, signal: AbortSignal): Promise<Uint8Array>;
}

/** Writes the files of a history: synced and renamed, so each is whole or absent. Folders on the way are made. */
export interface HistoryWriter {
  /** `replace` false: @throws when a file of that name is there already; a manifest is never written over. */
  write(path: string, bytes: Uint8Array, replace: boolean): Promise<void>;
}

/** A file hashed in one pass over its bytes. */
export interface HashedFile {
  readonly sizeBytes: number;
  readonly digests: Digests;
}

/** Hashes. Files are read once for all formats asked for, in pieces, so memory does not grow with their size. */
export interface Hasher {
  /** How many files are worth hashing at the same time. */
  readonly filesAtOnce: number;
  /** Of bytes in memory. */
  readonly digest: Digest;
  /** Says how much is to come, so that threads are started only where they pay. */
  expect(bytes: number, formats: readonly HashFormat[]): void;
  /** `advance` hears of every piece that was read. Links are not followed. @throws {UnreachableFileError} when the system refuses. */
  hashFile(path: string, formats: readonly HashFormat[], signal: AbortSignal, advance: (bytes: number) => void): Promise<HashedFile>;
}

/** What is drawn over a reference movie: fixed lines, the number of its first frame, and the timecode of its first frame. */
export interface BurnIn {
  readonly lines: readonly string[];
  readonly firstNumber: number;
  /** A label, ";" before the frames when drop frame; undefined when the clip has none or its labels do not count single frames. */
  readonly timecode: string | undefined;
}

/** Names of files that differ by a number alone: absolute path before it, what follows it, and to how many digits it is padded. */
export interface NumberedFiles {
  readonly before: string;
  readonly after: string;
  readonly padding: number;
  readonly firstNumber: number;
}

/** Pulls frames out of clips at their full size. Colour is passed through: no transfer function, gamut or look is applied. */
export interface FramePuller {
  /** Whether frames of that kind, or reference movies, can be written here; the reason and what to do when not. */
  fault(kind: PullFormat | 'movie', signal: AbortSignal): Promise<string | undefined>;
  /** What pulling does to the code values of a clip, in words. */
  colourOf(clip: ReadClipPath, signal: AbortSignal): Promise<string>;
  /**
   * The frames of `range` (from the clip's first, end exclusive, none of them in a hole), decoded in one go and written to files,
   * of each of which `done` hears in order. A DPX still needs its header over its first bytes (`stampDpx`). @throws {Error} when
   * not all of them could be decoded, or `done` throws.
   */
  pullFiles(clip: ReadClipPath, range: FrameRange, format: Exclude<PullFormat, 'exr'>, files: NumberedFiles, done: (frame: number) => Promise<void>, signal: AbortSignal): Promise<void>;
  /** The same as EXR, handed to `take` as the bytes of a file each, whose header has yet to grow (`stampExr`); they may be used until `take` has ended. */
  pullExr(clip: ReadClipPath, range: FrameRange, take: (frame: number, picture: Uint8Array) => Promise<void>, signal: AbortSignal): Promise<void>;
  /** The frames of `range` as a movie at `target` (absolute). @throws {Error} when it could not be made. */
  movie(clip: ReadClipPath, range: FrameRange, burnIn: BurnIn, target: string, signal: AbortSignal): Promise<void>;
}

/**
 * A package while it is built, beside its final place. What an earlier, broken run left there stands (`holds`) where it was made of
 * the same and its bytes are unharmed. Writing throws UsageError when the disk is full or takes no writing.
 */
export interface PackageBuild extends OutputFolder {
  /** A file in parts, one after the other. */
  writeParts(file: string, parts: readonly Uint8Array[], madeOf: string): Promise<void>;
  /** A place another program may write the file to, absolute; `kept` notes it when it is done. */
  pathFor(file: string): Promise<string>;
  /** `start` is given the file's first 2048 bytes and answers what to write in their place. */
  kept(file: string, madeOf: string, start?: (bytes: Uint8Array) => Uint8Array): Promise<void>;
}

/** Work that machines share. `read`: the header of a clip. `decode`: pictures of a clip. `sheet`: one printed page. `hash`: a file's digests. */
export type JobKind = 'read' | 'hash' | 'decode' | 'sheet';

/** One piece of work. What comes of it is kept in the catalogue, so doing it twice does no harm; equal keys mean equal work. */
export interface FarmJob {
  readonly key: string;
  /** What to do, as JSON that the worker of its kind understands. */
  readonly work: string;
}

/** Does jobs of one kind, `atOnce` at a time. */
export interface JobHands {
  readonly atOnce: number;
  /** @throws {Error} when the job could not be done; it is tried again, then put aside. */
  readonly work: (work: string, signal: AbortSignal) => Promise<void>;
}

/** Machines that work together through one database. */
export interface Farm {
  /**
   * Has jobs done by whatever workers there are and resolves when none of them waits or runs any more. A job that waits or runs
   * already is not put up twice. Whoever asked looks in the catalogue for what came of them: some may have failed for good.
   */
  have(kind: JobKind, jobs: readonly FarmJob[], signal: AbortSignal, onDone?: (jobs: number) => void): Promise<void>;
  /** Does jobs until the signal fires, and finishes those in hand. */
  serve(hands: Partial<Readonly<Record<JobKind, JobHands>>>, signal: AbortSignal): Promise<void>;
  /** Jobs that were put aside after several tries, with the reason, sorted by key. */
  putAside(): Promise<readonly { readonly kind: JobKind; readonly key: string; readonly reason: string }[]>;
  close(): Promise<void>;
}
