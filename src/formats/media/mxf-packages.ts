import type { FrameRate } from '../../core/timecode/rate.ts';
import { frameRate, hasDropFrame, nominalBase } from '../../core/timecode/rate.ts';
import type { Timecode } from '../../core/timecode/timecode.ts';
import { framesPerDay } from '../../core/timecode/timecode.ts';
import type { HeaderMetadata, MetadataSet } from './mxf-sets.ts';
import { labelItem, numberItem, rateItem, referred, referredAll, setsOf, textItem } from './mxf-sets.ts';

/** Local tags of ST 377-1, Annex A to F. */
const TAG = {
  packageId: 0x4401, name: 0x4402, tracks: 0x4403, descriptor: 0x4701, trackId: 0x4801, sequence: 0x4803, editRate: 0x4b01, origin: 0x4b02,
  dataDefinition: 0x0201, duration: 0x0202, components: 0x1001, startPosition: 0x1201, sourcePackage: 0x1101, sourceTrack: 0x1102,
  startTimecode: 0x1501, timecodeBase: 0x1502, dropFrame: 0x1503,
} as const;
const KIND = { material: '36', source: '37', clip: '11', timecode: '14', tape: '2e', film: '2d' } as const;
const PICTURE = '0103020201';
const NO_PACKAGE = '0'.repeat(64);
/** Material, file and tape package, and a generation or two between: more is a loop. */
const MAX_GENERATIONS = 8;

/** One package of the chain from the material package to the tape. `shift` is the position of the clip's first picture in it. */
export interface Generation {
  readonly what: 'material package' | 'file package' | 'tape package' | 'source package';
  readonly name: string | undefined;
  readonly rate: FrameRate | undefined;
  readonly durationFrames: number | undefined;
  readonly timecode: PackageTimecode | undefined;
  /** Source packages that stand for a tape or a film reel, and packages without essence of their own. */
  readonly physical: boolean;
}

/** Timecode of the clip's first picture as one package has it. */
export interface PackageTimecode {
  readonly timecode: Timecode;
  readonly rate: FrameRate | undefined;
  /** A drop flag was set where there is no drop frame. */
  readonly falseDrop: boolean;
}

/** Follows the picture from the material package through its source clips. Empty when there is no material package. */
export function pictureGenerations(metadata: HeaderMetadata): Generation[] {
  const packages = setsOf(metadata, KIND.material, KIND.source);
  const generations: Generation[] = [];
  let current = packages.find((set) => set.kind === KIND.material);
  let trackId: number | undefined;
  let position = 0;
  const seen = new Set<MetadataSet>();
  while (current !== undefined && !seen.has(current) && generations.length < MAX_GENERATIONS) {
    seen.add(current);
    const track = pictureTrack(metadata, current, trackId);
    const rate = track === undefined ? undefined : rateItem(track, TAG.editRate);
    generations.push(generationOf(metadata, current, track, position));
    const clip = track === undefined ? undefined : componentsOf(metadata, track).find((set) => set.kind === KIND.clip);
    if (clip === undefined) break;
    const next = sourceOf(packages, clip);
    const nextTrack = numberItem(clip, TAG.sourceTrack);
    position = moved(position + (numberItem(clip, TAG.startPosition) ?? 0), rate, next === undefined ? undefined : rateOfTrack(metadata, next, nextTrack));
    current = next;
    trackId = nextTrack;
  }
  return generations;
}

function generationOf(metadata: HeaderMetadata, set: MetadataSet, track: MetadataSet | undefined, position: number): Generation {
  const descriptor = referred(metadata, set, TAG.descriptor);
  const physical = descriptor?.kind === KIND.tape || descriptor?.kind === KIND.film;
  const rate = track === undefined ? undefined : rateItem(track, TAG.editRate);
  return {
    what: set.kind === KIND.material ? 'material package' : physical ? 'tape package' : descriptor === undefined ? 'source package' : 'file package',
    name: textItem(set, TAG.name),
    rate,
    durationFrames: track === undefined ? undefined : trackDuration(metadata, track),
    timecode: timecodeOf(metadata, set, position, rate),
    physical: physical || (set.kind === KIND.source && descriptor === undefined),
  };
}

/** The track with a given id when that is known, else the first picture track. */
function pictureTrack(metadata: HeaderMetadata, set: MetadataSet, id: number | undefined): MetadataSet | undefined {
  const tracks = referredAll(metadata, set, TAG.tracks);
  const named = id === undefined ? undefined : tracks.find((track) => numberItem(track, TAG.trackId) === id);
  return named ?? tracks.find((track) => isPicture(metadata, track));
}

function isPicture(metadata: HeaderMetadata, track: MetadataSet): boolean {
  const sequence = referred(metadata, track, TAG.sequence);
  return [sequence, ...componentsOf(metadata, track)].some((set) => set !== undefined && labelItem(set, TAG.dataDefinition)?.slice(16).startsWith(PICTURE) === true);
}

/** What a track's sequence holds; a track may also refer to its single component directly. */
function componentsOf(metadata: HeaderMetadata, track: MetadataSet): MetadataSet[] {
  const sequence = referred(metadata, track, TAG.sequence);
  if (sequence === undefined) return [];
  return sequence.kind === KIND.clip || sequence.kind === KIND.timecode ? [sequence] : referredAll(metadata, sequence, TAG.components);
}

function trackDuration(metadata: HeaderMetadata, track: MetadataSet): number | undefined {
  const sequence = referred(metadata, track, TAG.sequence);
  return sequence === undefined ? undefined : numberItem(sequence, TAG.duration);
}

function sourceOf(packages: readonly MetadataSet[], clip: MetadataSet): MetadataSet | undefined {
  const id = labelItem(clip, TAG.sourcePackage);
  return id === undefined || id === NO_PACKAGE ? undefined : packages.find((set) => labelItem(set, TAG.packageId) === id);
}

function rateOfTrack(metadata: HeaderMetadata, set: MetadataSet, id: number | undefined): FrameRate | undefined {
  const track = pictureTrack(metadata, set, id);
  return track === undefined ? undefined : rateItem(track, TAG.editRate);
}

/** A position counted at one edit rate, counted at another. */
function moved(position: number, from: FrameRate | undefined, to: FrameRate | undefined): number {
  return from === undefined || to === undefined ? position : Math.floor((position * to.num * from.den) / (to.den * from.num));
}

function timecodeOf(metadata: HeaderMetadata, set: MetadataSet, position: number, pictureRate: FrameRate | undefined): PackageTimecode | undefined {
  for (const track of referredAll(metadata, set, TAG.tracks)) {
    const component = componentsOf(metadata, track).find((part) => part.kind === KIND.timecode);
    const start = component === undefined ? undefined : numberItem(component, TAG.startTimecode);
    const base = component === undefined ? undefined : numberItem(component, TAG.timecodeBase);
    if (component === undefined || start === undefined || start < 0 || base === undefined || base === 0) continue;
    const rate = labelRate(rateItem(track, TAG.editRate) ?? pictureRate, base);
    const flagged = numberItem(component, TAG.dropFrame) === 1;
    const drop = flagged && (rate === undefined ? base % 30 === 0 : hasDropFrame(rate));
    const format = { base, drop };
    const frame = start + moved(position, pictureRate, rate);
    return { timecode: { frame: frame % framesPerDay(format), format }, rate, falseDrop: flagged && !drop };
  }
  return undefined;
}

/** The rate labels count at: the track's own, or that part of it the base says when labels stand for pairs of pictures. */
function labelRate(editRate: FrameRate | undefined, base: number): FrameRate | undefined {
  if (editRate === undefined) return undefined;
  const nominal = nominalBase(editRate);
  return nominal === base || nominal === 0 ? editRate : frameRate(editRate.num * base, editRate.den * nominal);
}
