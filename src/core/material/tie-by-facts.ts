import type { SlateGrammar } from '../slate/grammar.ts';
import type { Slate } from '../slate/slate.ts';
import { setUpKey } from '../slate/slate.ts';
import { numbersOf } from './clip-index.ts';
import { foldName, parseCameraName, stemOf } from './clip-names.ts';
import { sameDate } from './dates.ts';
import type { ClipNote } from './day.ts';
import type { ResolvedClip } from './resolve-clip.ts';
import type { RoleReader } from './role-words.ts';
import type { RowFacts } from './row-facts.ts';
import { rowFacts } from './row-facts.ts';
import type { NamedNote } from './tie-notes.ts';
import type { TimecodeIndex } from './timecode-index.ts';
import { indexTimecode } from './timecode-index.ts';

/** A clip as far as it is known before the last notes are tied. */
export interface SlatedClip {
  readonly clip: ResolvedClip;
  readonly slate: Slate | undefined;
}

/** Where a note goes. `humanOnly` when it speaks of a take that several cameras shot; several places without it are copies of one clip. */
export interface Tie {
  readonly note: ClipNote;
  readonly places: readonly number[];
  readonly humanOnly: boolean;
}

/** A note that is about no clip, or might be about any of several. */
export interface UntiedNote {
  readonly note: ClipNote;
  /** What it goes by: "slate 27B, take 3". */
  readonly names: string;
  readonly places: readonly number[];
}

/**
 * Ties what names alone left open: clips that share a name are told apart by camera, date, slate and timecode; rows without a
 * name, or with a clip number that several have, go by slate and take (a row without a camera letter is about every camera's clip of the take), then by camera and timecode.
 */
export function tieByFacts(
  open: readonly NamedNote[], clips: readonly SlatedClip[], grammar: SlateGrammar, reader: RoleReader,
): { readonly ties: readonly Tie[]; readonly untied: readonly UntiedNote[] } {
  const ties: Tie[] = [];
  const untied: UntiedNote[] = [];
  if (open.length === 0) return { ties, untied };
  const index: FactIndex = { clips, byTake: indexTakes(clips), byTimecode: indexTimecode(clips.map(({ clip }) => clip)) };
  for (const { note, names, places, withoutRoll } of open) {
    const row = rowFacts(note, grammar, reader);
    const byName = names !== undefined && withoutRoll?.sure !== false;
    const left = byName ? narrow(places, row, clips, false) : bySlateOrClock(row, index).filter((place) => names === undefined || places.includes(place));
    const humanOnly = !byName && left.length > 1 && row.camera === undefined && eachOnItsOwnCamera(left, clips);
    if (left.length === 1 || humanOnly || areCopies(left, clips)) ties.push({ note, places: left, humanOnly });
    else untied.push({ note, names: names ?? row.words, places: byName || names === undefined ? left : places });
  }
  return { ties, untied };
}

interface FactIndex {
  readonly clips: readonly SlatedClip[];
  readonly byTake: ReadonlyMap<string, readonly number[]>;
  readonly byTimecode: TimecodeIndex;
}

function bySlateOrClock(row: RowFacts, { clips, byTake, byTimecode }: FactIndex): readonly number[] {
  const ofTake = row.slate?.take === undefined ? [] : (byTake.get(takeKey(row.slate)) ?? []);
  const bySlate = narrow(ofTake.filter((place) => mayBe(clips[place], row)), row, clips, true);
  // Only a row that knows its camera may go by the clock alone: two cameras run on one timecode.
  if (bySlate.length > 0 || row.tcIn === undefined || row.camera === undefined) return bySlate;
  return narrow(byTimecode.holding(row.tcIn, row.camera), row, clips, true).filter((place) => mayBe(clips[place], row) && isOfSlate(clips[place], row.slate));
}

/** A row that gives a roll or a clip number is never about a clip that has others: it is about one that is not here. */
function mayBe(known: SlatedClip | undefined, row: RowFacts): boolean {
  if (known === undefined) return false;
  const { rolls, clips } = numbersOf(known.clip.statements, parseCameraName(stemOf(known.clip.file)));
  const fits = <T>(stated: T | undefined, own: readonly T[]): boolean => stated === undefined || own.length === 0 || own.includes(stated);
  return fits(row.roll, rolls) && fits(row.clip, clips);
}

/**
 * Drops candidates that the row's other cells rule out. A row is never about another camera's clip, nor, where no name ties the two,
 * about another day's: slates and clock times come again. Any other cell that would rule out all of them is not heeded.
 */
function narrow(places: readonly number[], row: RowFacts, clips: readonly SlatedClip[], sameDayOnly: boolean): readonly number[] {
  const tests: readonly ((known: SlatedClip) => boolean)[] = [
    ({ clip }) => row.camera === undefined || clip.camera === undefined || clip.camera === row.camera,
    ({ clip }) => row.date === undefined || clip.date === undefined || sameDate(clip.date, row.date),
    (known) => isOfSlate(known, row.slate),
    ({ slate }) => isOfPass(slate, row),
  ];
  let left = places;
  for (const [order, test] of tests.entries()) {
    const kept = left.filter((place) => clips[place] !== undefined && test(clips[place]));
    if (kept.length > 0 || order === 0 || (order === 1 && sameDayOnly)) left = kept;
  }
  return left.length < 2 || row.tcIn === undefined ? left : byStart(left, row.tcIn, clips);
}

function byStart(places: readonly number[], label: string, clips: readonly SlatedClip[]): readonly number[] {
  const holding = new Set(indexTimecode(places.map((place) => clips[place]?.clip ?? {})).holding(label, undefined));
  const kept = places.filter((_place, position) => holding.has(position));
  return kept.length > 0 ? kept : places;
}

function isOfSlate(known: SlatedClip | undefined, slate: Slate | undefined): boolean {
  if (slate === undefined || known?.slate === undefined) return true;
  const sameTake = slate.take === undefined || known.slate.take === undefined || slate.take === known.slate.take;
  return sameTake && setUpKey(slate) === setUpKey(known.slate);
}

/** Takes that start again for each pass are told apart by the suffix on the slate; the lead carries none. */
function isOfPass(slate: Slate | undefined, { slate: written, passRoles, roleOfSuffix }: RowFacts): boolean {
  if (slate === undefined) return true;
  if (written !== undefined && written.suffix !== '') return slate.suffix === written.suffix;
  const role = slate.suffix === '' ? 'lead' : roleOfSuffix(slate.suffix);
  return passRoles.length === 0 || (role !== undefined && passRoles.includes(role));
}

function indexTakes(clips: readonly SlatedClip[]): ReadonlyMap<string, readonly number[]> {
  const byTake = new Map<string, number[]>();
  clips.forEach(({ slate }, place) => {
    if (slate?.take === undefined) return;
    const list = byTake.get(takeKey(slate));
    if (list === undefined) byTake.set(takeKey(slate), [place]);
    else list.push(place);
  });
  return byTake;
}

function takeKey(slate: Slate): string {
  return `${setUpKey(slate)}|${slate.take}`;
}

function eachOnItsOwnCamera(places: readonly number[], clips: readonly SlatedClip[]): boolean {
  const cameras = places.map((place) => clips[place]?.clip.camera);
  return !cameras.includes(undefined) && new Set(cameras).size === places.length;
}

/** The same recording in several folders: a row about it is about each copy. */
function areCopies(places: readonly number[], clips: readonly SlatedClip[]): boolean {
  const kinds = new Set(places.map((place) => copyKey(clips[place]?.clip)));
  return places.length > 1 && kinds.size === 1 && !kinds.has('');
}

function copyKey(clip: ResolvedClip | undefined): string {
  return clip === undefined ? '' : `${foldName(stemOf(clip.file))}|${clip.sizeBytes}|${clip.frames ?? ''}|${clip.start?.frame ?? ''}`;
}
