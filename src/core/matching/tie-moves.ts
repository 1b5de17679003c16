import { namesLead } from '../coverage/shot-of-lead.ts';
import type { Clip } from '../material/clip.ts';
import type { ClipIndex } from '../material/clip-index.ts';
import { indexClips } from '../material/clip-index.ts';
import { cameraLetter, folderOf } from '../material/clip-names.ts';
import type { Finding } from '../material/finding.ts';
import { framesHeld, lensTrackOf } from '../material/move-on-clip.ts';
import type { RecordedMove, TiedMove } from '../material/tracked-move.ts';
import { formatTimecode } from '../timecode/timecode.ts';
import { compareText } from './sorted.ts';

/** Recorded moves with their clips, the clips with what the moves say of the lens along them, and a finding for each move that has none. */
export interface TiedMoves {
  readonly clips: readonly Clip[];
  readonly ties: readonly TiedMove[];
  readonly findings: readonly Finding[];
}

/**
 * Ties recorded moves to clips: by the name of their file, else by a folder they share with one clip alone, else by camera, slate and timecode. A move whose
 * name and folder say nothing may hold several takes of its camera. The order of moves and clips never matters.
 */
export function tieMoves(moves: readonly RecordedMove[], clips: readonly Clip[]): TiedMoves {
  if (moves.length === 0) return { clips, ties: [], findings: [] };
  const index = indexClips(clips);
  const sorted = moves.toSorted((a, b) => compareText(a.file, b.file) || compareText(a.source, b.source));
  const found = sorted.map((move) => ({ move, ...candidatesOf(move, clips, index) }));
  const ties = found.flatMap(({ move, places, evidence, isSure }) => (isSure ? places.flatMap((place): readonly TiedMove[] => tieOf(move, clips[place], evidence)) : []));
  const findings = found.flatMap(({ move, places, isSure }) => (isSure ? [] : [untied(move, places.flatMap((place) => clips[place]?.id ?? []))]));
  const byClip = new Map<string, RecordedMove[]>();
  for (const { move, clip } of ties) byClip.set(clip, [...(byClip.get(clip) ?? []), move]);
  return { clips: clips.map((clip) => withLens(clip, byClip.get(clip.id) ?? [])), ties, findings };
}

interface Candidates {
  readonly places: readonly number[];
  readonly evidence: string;
  readonly isSure: boolean;
}

function candidatesOf(move: RecordedMove, clips: readonly Clip[], index: ClipIndex): Candidates {
  const named = byName(move, index);
  if (named.length > 0) {
    const places = named.length > 1 ? narrowed(named, move, clips) : named;
    return { places, evidence: `${move.file} carries its name`, isSure: places.length === 1 };
  }
  const alone = clips.flatMap((clip, place) => (clip.usable && folderOf(clip.file) === move.folder ? [place] : []));
  if (move.folder !== '' && alone.length === 1) return { places: alone, evidence: `${move.file} lies in its folder, which holds no other clip`, isSure: true };
  const places = byClock(move, clips);
  return { places, evidence: `timecode of ${move.file}`, isSure: places.length > 0 && follow(places, clips) };
}

/** The name of the file may go on after that of the clip: `A015C004_261124_M8TR_track.jsonl`. */
function byName({ folder, stem }: RecordedMove, index: ClipIndex): readonly number[] {
  for (let name = stem; name !== ''; name = /^(.*)[._ -]/u.exec(name)?.[1] ?? '') {
    const beside = index.byNameIn(folder, name);
    const places = beside.length > 0 ? beside : index.byName(name);
    if (places.length > 0) return places;
  }
  return [];
}

function narrowed(places: readonly number[], move: RecordedMove, clips: readonly Clip[]): readonly number[] {
  const held = new Set(byClock(move, clips));
  const left = places.filter((place) => held.has(place));
  return left.length > 0 ? left : places;
}

/** Clips of which a move holds at least half the frames, where camera and slate, if it names them, are theirs. */
function byClock(move: RecordedMove, clips: readonly Clip[]): readonly number[] {
  const { slate, camera: { label } } = move;
  const held = clips.flatMap((clip, place) => {
    if (!clip.usable || clip.frames === undefined) return [];
    if (label !== undefined && clip.camera !== undefined && cameraLetter(label) !== clip.camera) return [];
    const range = framesHeld(move, clip);
    return range === undefined || (range.end - range.start) * 2 < clip.frames ? [] : [place];
  });
  const ofSlate = slate === undefined ? [] : held.filter((place) => clips[place] !== undefined && namesLead({ slate }, clips[place]));
  return ofSlate.length > 0 ? ofSlate : held;
}

/** Whether the clips are of one camera and come one after another, so that one long recording may well hold them all. */
function follow(places: readonly number[], clips: readonly Clip[]): boolean {
  const known = places.flatMap((place) => clips[place] ?? []).toSorted((a, b) => (a.start?.frame ?? 0) - (b.start?.frame ?? 0));
  if (new Set(known.map(({ camera }) => camera)).size > 1) return false;
  return known.slice(1).every((clip, position) => {
    const before = known[position];
    const perLabel = clip.rate === undefined || clip.start === undefined ? 1 : Math.max(1, Math.round(clip.rate.num / clip.rate.den / clip.start.format.base));
    return (clip.start?.frame ?? 0) >= (before?.start?.frame ?? 0) + (before?.frames ?? 0) / perLabel;
  });
}

function tieOf(move: RecordedMove, clip: Clip | undefined, evidence: string): readonly TiedMove[] {
  return clip === undefined ? [] : [{ move, clip: clip.id, evidence }];
}

/** What the camera itself recorded along the take goes first. */
function withLens(clip: Clip, moves: readonly RecordedMove[]): Clip {
  const tracks = moves.flatMap((move) => lensTrackOf(move, clip) ?? []);
  return tracks.length === 0 ? clip : { ...clip, tracks: [...clip.tracks, ...tracks] };
}

function untied(move: RecordedMove, subject: readonly string[]): Finding {
  const several = subject.length > 1;
  return {
    code: 'unused-sidecar',
    severity: 'warn',
    subject: subject.toSorted(compareText),
    measured: { value: several ? `${subject.length} clips` : 'no clip', unit: '' },
    allowed: { value: 'one clip', unit: '' },
    consequence: `The tracked move in ${move.file}${spanText(move)} ${several ? `could be that of ${subject.toSorted(compareText).join(' or ')}` : 'is that of no clip that is here'}: passes are compared without it.`,
    remedy: 'Give the file the name of its clip, or put it into a folder with its clip alone.',
    evidence: [move.source === '' ? move.file : `${move.file}, source ${move.source}`],
  };
}

/** " (60 samples from 11:40:00:00)" */
function spanText({ samples, format }: RecordedMove): string {
  const [first] = samples;
  return first === undefined ? '' : ` (${samples.length} samples${format === undefined ? '' : ` from ${formatTimecode({ frame: first.frame, format })}`})`;
}
