import { foldSlate } from '../../coverage/shot-of-lead.ts';
import type { Clip } from '../../material/clip.ts';
import { foldName, parseCameraName, stemOf, withoutExtension } from '../../material/clip-names.ts';
import type { CutEvent } from '../../material/cut-event.ts';
import { setUpKey } from '../../slate/slate.ts';
import { groupBy } from '../sorted.ts';
import type { Placed } from './place-source.ts';
import { placeSource } from './place-source.ts';

/** What an event of a cut turned out to be. */
export type FoundClip =
  | { readonly kind: 'found'; readonly clip: Clip; readonly placed: Extract<Placed, { kind: 'placed' }>; readonly tiedBy: string }
  /** Several answer, and nothing tells them apart. */
  | { readonly kind: 'several'; readonly clips: readonly Clip[]; readonly by: string }
  /** One answers to the name, but not to the timecode. */
  | { readonly kind: 'misplaced'; readonly clip: Clip; readonly why: string }
  | { readonly kind: 'none' };

interface Hit {
  readonly clip: Clip;
  readonly by: readonly string[];
}

/** Reels as edit lists shorten them: the first 8 characters, all that the column of a CMX 3600 list holds. */
const SHORT_REEL = 8;

/**
 * Finds the clip of an event: by clip name or file first (a reel is often cut short, so that different sources become alike), then
 * by reel; of several, those whose timecode holds the source range. Makes its index once.
 */
export function clipFinder(clips: readonly Clip[]): (event: CutEvent) => FoundClip {
  const usable = clips.filter((clip) => clip.usable);
  const byName = groupBy(usable.flatMap((clip) => namesOf(clip).map((name) => ({ name, clip }))), ({ name }) => name);
  const bySlate = groupBy(usable.flatMap((clip) => slatesOf(clip).map((name) => ({ name, clip }))), ({ name }) => name);
  const byReel = groupBy(usable.flatMap((clip) => reelsOf(clip).map((name) => ({ name, clip }))), ({ name }) => name);
  const look = (index: typeof byName, keys: readonly string[], by: string): readonly Hit[] => {
    const found = new Set(keys.filter((key) => key !== '').flatMap((key) => (index.get(key) ?? []).map(({ clip }) => clip)));
    return [...found].map((clip) => ({ clip, by: [by] }));
  };
  return (event) => {
    const { clipName, sourceFile, reel } = event;
    const named = both(
      sourceFile === undefined ? [] : look(byName, [foldName(lastPart(sourceFile)), foldName(stemOf(sourceFile))], 'file name'),
      clipName === undefined ? [] : look(byName, nameKeys(clipName), 'clip name'),
    );
    const slated = named.length > 0 || clipName === undefined ? [] : look(bySlate, [foldSlate(withoutExtension(clipName))], `clip name ${clipName}, its slate`);
    const reeled = reel === undefined ? [] : look(byReel, [foldName(reel)], `reel ${reel}`);
    const candidates = named.length > 0 ? both(named, reeled) : slated.length > 0 ? both(slated, reeled) : reeled;
    return choose(event, candidates);
  };
}

/** Clips that both kinds of evidence name; those of the first where they have none in common. */
function both(first: readonly Hit[], second: readonly Hit[]): readonly Hit[] {
  if (first.length === 0) return second;
  const shared = first.flatMap(({ clip, by }) => second.filter((other) => other.clip === clip).map((other) => ({ clip, by: [...by, ...other.by] })));
  return shared.length > 0 ? shared : first;
}

function choose({ source }: CutEvent, candidates: readonly Hit[]): FoundClip {
  const placed = candidates.map((hit) => ({ ...hit, placed: placeSource(source, hit.clip) }));
  const [first, ...others] = placed.flatMap(({ clip, by, placed: at }) => (at.kind === 'placed' ? [{ clip, by, at }] : []));
  if (first === undefined) {
    const [only, ...more] = placed;
    if (only === undefined) return { kind: 'none' };
    if (more.length > 0) return { kind: 'several', clips: candidates.map(({ clip }) => clip), by: `${only.by.join(' and ')}, and its source timecode lies in none of them` };
    return { kind: 'misplaced', clip: only.clip, why: only.placed.kind === 'nowhere' ? only.placed.why : '' };
  }
  if (others.length > 0) return { kind: 'several', clips: [first, ...others].map(({ clip }) => clip), by: first.by.join(' and ') };
  return { kind: 'found', clip: first.clip, placed: first.at, tiedBy: [...first.by, first.at.by].join(' and ') };
}

function namesOf({ file }: Clip): readonly string[] {
  const stem = stemOf(file);
  const short = parseCameraName(stem)?.short;
  return [...new Set([foldName(lastPart(file)), foldName(stem), ...(short === undefined ? [] : [foldName(short)])])];
}

/** A reel may be the whole name, its first 8 characters, or the roll. */
function reelsOf(clip: Clip): readonly string[] {
  const stem = foldName(stemOf(clip.file));
  const short = parseCameraName(stem)?.short;
  const names = [stem, stem.slice(0, SHORT_REEL), stem.replaceAll(/[^a-z0-9_]/gu, '_').slice(0, SHORT_REEL), ...(short === undefined ? [] : [foldName(short)]), foldName(clip.roll ?? '')];
  return [...new Set(names)].filter((name) => name !== '');
}

function slatesOf({ slate }: Clip): readonly string[] {
  if (slate === undefined) return [];
  const withTake = slate.take === undefined ? [] : [foldSlate(`${setUpKey(slate)} ${slate.take}`)];
  return [...new Set([foldSlate(slate.text), ...withTake])];
}

/** Editing programs add to a clip's name: a layer or speed in brackets, "FF" for a freeze, the extension. */
function nameKeys(clipName: string): readonly string[] {
  const plain = clipName.replace(/(?:\s*\([^()]*\))+(?:\s+FF)?\s*$/u, '').replace(/\s+FF\s*$/u, '').trim();
  return [...new Set([clipName, plain, withoutExtension(plain), lastPart(plain.replaceAll('\\', '/'))].map(foldName))];
}

function lastPart(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
}
