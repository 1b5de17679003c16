import type { PassCoverage } from '../../core/coverage/coverage.ts';
import type { Clip, Role } from '../../core/material/clip.ts';
import { formatSlate } from '../../core/slate/slate.ts';
import { framesPerLabel } from '../../core/timecode/half-rate.ts';
import type { FrameRange } from '../../core/timecode/range.ts';
import { lengthOf, overlap, pullRange, shiftRange } from '../../core/timecode/range.ts';
import { formatRate } from '../../core/timecode/rate.ts';
import { formatTimecode } from '../../core/timecode/timecode.ts';
import type { PullFormat } from '../../formats/media/pull-format.ts';
import { labelAt, spanFrames } from '../../formats/sheet/clip-words.ts';
import { isHeld, missingParts } from '../../formats/sheet/coverage-drawing.ts';
import type { NumberRange, PassPictures, ShotPass } from '../../formats/turnover/shot-file.ts';
import type { FoundShot } from './find-shots.ts';

/** One pass of a shot before it is planned. */
export interface PassToPlan {
  readonly clip: Clip;
  readonly role: Exclude<Role, 'unknown'>;
  readonly sync: ShotPass['sync'];
  /** How far it holds the range; undefined when nobody knows how long it is, and for references. */
  readonly cover: PassCoverage | undefined;
  readonly retime: string | undefined;
}

/** Where its files go, and what is asked for. */
export interface PassPlace {
  /** The shot's folder. */
  readonly folder: string;
  /** "lead", "element-2". */
  readonly name: string;
  readonly firstNumber: number;
  readonly pictures: PullFormat | undefined;
  readonly movies: boolean;
}

/** The frames of a clip that are delivered, and the number of the first of them. */
interface Delivered {
  readonly lies: ShotPass['lies'];
  readonly source: FrameRange | undefined;
  readonly firstNumber: number;
}

/** What is delivered of one pass: its frames, their numbers, its files. */
export function planPass(found: FoundShot, pass: PassToPlan, place: PassPlace): ShotPass {
  const { clip, role, sync, cover } = pass;
  const delivered = deliveredOf(found, pass, place.firstNumber);
  const { lies, source } = delivered;
  const pull = pullRange(found.needed.cut, found.needed.handles);
  const number = (leadFrame: number): number => place.firstNumber + leadFrame - pull.start;
  const pictures = source === undefined ? undefined : picturesOf(clip, source, delivered.firstNumber, place);
  const whyNot = place.pictures === undefined || pictures !== undefined ? null : whyNoPictures(clip, source);
  return {
    role,
    clip: clip.id,
    reel: reelOf(clip),
    slate: clip.slate === undefined ? null : formatSlate(clip.slate),
    kind: clip.kind,
    rate: clip.rate === undefined ? null : formatRate(clip.rate),
    lies,
    sync,
    numbers: source === undefined ? null : { first: delivered.firstNumber, last: delivered.firstNumber + lengthOf(source) - 1 },
    source: source === undefined ? null : { first: source.start, last: source.end - 1, timecodeFirst: labelAt(clip, source.start) ?? null, timecodeLast: labelAt(clip, source.end - 1) ?? null },
    missing: cover === undefined || lies !== 'in sync' ? [] : missingParts(cover, found.needed).map(({ range, part }) => ({ first: number(range.start), last: number(range.end - 1), part })),
    retime: pass.retime ?? null,
    pictures: pictures ?? null,
    movie: movieOf(clip, source, place) ?? null,
    notDelivered: whyNot,
  };
}

function deliveredOf(found: FoundShot, { clip, role, cover, sync }: PassToPlan, firstNumber: number): Delivered {
  const pull = pullRange(found.needed.cut, found.needed.handles);
  const span = spanFrames(clip) ?? 0;
  if (role === 'reference') return { lies: 'beside', source: span === 0 ? undefined : { start: 0, end: span }, firstNumber };
  if (cover === undefined) return { lies: 'in sync', source: undefined, firstNumber };
  const there = overlap(pull, cover.available);
  const whole = there !== undefined && lengthOf(there) === lengthOf(pull);
  if (!whole && isHeld(found.judged, cover)) {
    // Any frame of it stands for all, so as many as there are go along, from as near to the range as they lie.
    const length = Math.min(span, lengthOf(pull));
    const start = Math.min(Math.max(0, pull.start + sync.offset), span - length);
    return { lies: 'held', source: length === 0 ? undefined : { start, end: start + length }, firstNumber };
  }
  if (there === undefined) return { lies: 'in sync', source: undefined, firstNumber };
  return { lies: 'in sync', source: shiftRange(there, sync.offset), firstNumber: firstNumber + there.start - pull.start };
}

const BITS: Readonly<Record<PullFormat, PassPictures['bits']>> = { dpx: '10 bit integer', exr: '16 bit half float', tiff: '16 bit integer', png: '16 bit integer' };
const EXTENSION: Readonly<Record<PullFormat, string>> = { dpx: 'dpx', exr: 'exr', tiff: 'tif', png: 'png' };

function picturesOf(clip: Clip, source: FrameRange, firstNumber: number, { folder, name, pictures: format }: PassPlace): PassPictures | undefined {
  if (format === undefined || !canDecode(clip)) return undefined;
  const numbers = runsOf(clip, source).map(({ start, end }): NumberRange => ({ first: firstNumber + start - source.start, last: firstNumber + end - 1 - source.start }));
  const last = numbers.at(-1)?.last;
  if (last === undefined) return undefined;
  const padding = Math.max(4, String(last).length);
  const stem = `${folder}/plates/${name}/${folder}_${name}`;
  return {
    format,
    bits: BITS[format],
    files: `${stem}.${'#'.repeat(padding)}.${EXTENSION[format]}`,
    padding,
    numbers,
    count: numbers.reduce((sum, run) => sum + run.last - run.first + 1, 0),
    timecode: format === 'dpx' || format === 'exr' ? timecodeOf(clip, source.start + (numbers[0]?.first ?? firstNumber) - firstNumber) : null,
    rate: (format === 'dpx' || format === 'exr') && clip.rate !== undefined ? formatRate(clip.rate) : null,
    colour: '',
  };
}

function timecodeOf({ start, rate }: Clip, firstFrame: number): PassPictures['timecode'] {
  const perLabel = start === undefined ? undefined : rate === undefined ? 1 : framesPerLabel(rate, start.format);
  // Labels that do not keep step with the pictures would be guesses.
  if (start === undefined || perLabel === undefined) return null;
  return { first: formatTimecode(start), firstFrame, base: start.format.base, dropFrame: start.format.drop, framesPerLabel: perLabel };
}

/** The frames without the holes of a sequence. */
function runsOf({ sequence }: Clip, source: FrameRange): readonly FrameRange[] {
  let runs: readonly FrameRange[] = [source];
  for (const hole of sequence?.missing ?? []) {
    const [start, end] = [hole.start - (sequence?.first ?? 0), hole.end - (sequence?.first ?? 0)];
    runs = runs.flatMap((run) => [{ start: run.start, end: Math.min(run.end, start) }, { start: Math.max(run.start, end), end: run.end }].filter((part) => part.start < part.end));
  }
  return runs;
}

function movieOf(clip: Clip, source: FrameRange | undefined, { folder, name, movies }: PassPlace): ShotPass['movie'] | undefined {
  if (!movies || source === undefined || !canDecode(clip) || runsOf(clip, source).length !== 1) return undefined;
  return { file: `${folder}/movies/${folder}_${name}.mov`, frames: lengthOf(source) };
}

function canDecode({ decodable, usable }: Clip): boolean {
  return decodable && usable;
}

function whyNoPictures(clip: Clip, source: FrameRange | undefined): string {
  if (!clip.usable) return `the clip is not usable: ${clip.completeness}`;
  if (!clip.decodable) return 'its header can be read and its pictures cannot be decoded here: the pull list is the deliverable';
  return source === undefined ? 'none of the frames asked for is there' : 'all of the frames asked for fall into holes of the sequence';
}

function reelOf(clip: Clip): string | null {
  const stated = clip.statements.find((statement) => statement.field === 'reel');
  return stated?.field === 'reel' ? stated.value : null;
}
