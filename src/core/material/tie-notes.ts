import type { ReadClip } from './clip.ts';
import type { ClipIndex } from './clip-index.ts';
import { indexClips, textOf } from './clip-index.ts';
import { cameraLetter, clipNumberName, foldName, folderOf, parseCameraName, rollNumber, stemOf, withoutExtension } from './clip-names.ts';
import type { ClipNote } from './day.ts';

/**
 * Which clips a note names by file name, or by roll and clip number. `names` is what it goes by, in words; undefined when it names
 * no clip in that way. More than one place: the name alone cannot tell them apart.
 */
export interface NamedNote {
  readonly note: ClipNote;
  readonly names: string | undefined;
  readonly places: readonly number[];
  /** Present when it goes by a clip number without a roll; `sure` when no other clip within reach and no other such row has that number. */
  readonly withoutRoll?: { readonly sure: boolean };
}

/** Looks each note up by the names it gives. Of clips that share a name the one in the nearest folder is meant. */
export function nameNotes(notes: readonly ClipNote[], clips: readonly ReadClip[]): readonly NamedNote[] {
  if (notes.length === 0) return [];
  const index = indexClips(clips);
  const looked = notes.map((note) => ({ note, named: lookUp(note, index) }));
  const rows = countBy(looked, ({ note, named }) => (named?.number === undefined ? undefined : `${note.file}\0${named.number}`));
  const reach = reachOf(clips);
  return looked.map(({ note, named }) => {
    if (named?.number === undefined) return { note, names: named?.names, places: named === undefined ? [] : nearest(named.places, note, clips) };
    const places = named.places.filter((place) => isBelow(clips[place]?.file ?? '', reach(note.folder)));
    // With no such clip here the row may still tell its clip by slate.
    if (places.length === 0) return { note, names: undefined, places };
    const copies = new Set(places.map((place) => foldName(stemOf(clips[place]?.file ?? '')))).size === 1;
    const sure = copies && rows.get(`${note.file}\0${named.number}`) === 1;
    return { note, names: named.names, places: sure ? nearest(places, note, clips) : places, withoutRoll: { sure } };
  });
}

function countBy<T>(list: readonly T[], keyOf: (one: T) => string | undefined): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const one of list) {
    const key = keyOf(one);
    if (key !== undefined) counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return counts;
}

/** A report that lies among the clips of a card speaks of that card; one that lies apart, of all that lies beside it. */
function reachOf(clips: readonly ReadClip[]): (folder: string) => string {
  const holding = new Set<string>(['']);
  for (const { file } of clips) for (let folder = folderOf(file); folder !== ''; folder = folderOf(folder)) holding.add(folder);
  return (folder) => {
    let reach = folder;
    while (!holding.has(reach)) reach = folderOf(reach);
    return reach;
  };
}

function isBelow(file: string, folder: string): boolean {
  return folder === '' || file.startsWith(`${folder}/`);
}

interface LookedUp {
  readonly names: string;
  readonly places: readonly number[];
  /** The camera and clip number it goes by, when no roll is known. */
  readonly number?: string;
}

function lookUp(note: ClipNote, index: ClipIndex): LookedUp | undefined {
  if (note.stem !== undefined) {
    const beside = index.byNameIn(note.folder, note.stem);
    return { names: `base name ${note.stem}`, places: beside.length > 0 ? beside : index.byName(note.stem) };
  }
  const file = textOf(note, 'file');
  const clip = textOf(note, 'clip');
  if (file !== undefined) {
    const places = byFileCell(file, index);
    // A column of clip names may hold bare numbers ("C012"), of which the roll makes a name. A whole name that is not here is not
    // here: another card may well hold the same roll and clip number.
    const bare = places.length === 0 && clip === undefined && parseCameraName(file) === undefined;
    const numbers = bare ? byNumbers(note, file, index) : undefined;
    return numbers ?? { names: `file ${file}`, places };
  }
  if (clip === undefined) return undefined;
  const whole = { names: `clip ${clip}`, places: index.byName(clip) };
  if (whole.places.length > 0) return whole;
  return byNumbers(note, clip, index) ?? (parseCameraName(clip) === undefined ? undefined : whole);
}

function byFileCell(cell: string, index: ClipIndex): readonly number[] {
  const name = cell.slice(Math.max(cell.lastIndexOf('/'), cell.lastIndexOf('\\')) + 1);
  for (const candidate of [name, withoutExtension(name)]) {
    const found = index.byName(candidate);
    if (found.length > 0) return found;
  }
  return [];
}

/** Roll and clip number, the letter from the camera column, the roll ("A003") or the clip's name. */
function byNumbers(note: ClipNote, clip: string, index: ClipIndex): LookedUp | undefined {
  const named = parseCameraName(clip);
  const rollText = textOf(note, 'roll');
  const roll = rollText === undefined ? named?.roll : rollNumber(rollText);
  const number = clipNumberName(clip);
  if (!/^C\d+$/u.test(number) || (rollText !== undefined && roll === undefined)) return undefined;
  const stated = textOf(note, 'camera');
  const letter = /^[A-Z](?=[\s_-]*\d)/iu.exec(rollText ?? '')?.[0].toUpperCase() ?? named?.camera;
  const camera = stated === undefined ? letter : cameraLetter(stated);
  const ofCamera = camera === undefined ? '' : `camera ${camera}, `;
  if (roll === undefined) return { names: `${ofCamera}clip ${clip}, no roll`, places: index.byClip(camera, number), number: `${camera ?? ''}|${number}` };
  const names = `roll ${rollText ?? roll}, clip ${clip}`;
  return { names: `${ofCamera}${names}`, places: index.byNumbers(camera, roll, number) };
}

/** The clips whose folder shares most with the note's own, or that lie where the note's file cell says. */
function nearest(places: readonly number[], note: ClipNote, clips: readonly ReadClip[]): readonly number[] {
  if (places.length < 2) return places;
  const path = textOf(note, 'file')?.replaceAll('\\', '/') ?? '';
  const stated = path.includes('/') ? places.filter((place) => endsWithPath(clips[place]?.file ?? '', path)) : [];
  const left = stated.length > 0 ? stated : places;
  const shared = left.map((place) => sharedFolders(folderOf(clips[place]?.file ?? ''), note.folder));
  const most = Math.max(...shared);
  return left.filter((_place, position) => shared[position] === most);
}

/** Whether a path such as `/Volumes/card/A003/clip.mov` or `A003/clip` ends as the file does, folder by folder. */
function endsWithPath(file: string, path: string): boolean {
  const folderAndName = withoutExtension(path).split('/').slice(-2).join('/');
  return withoutExtension(file) === folderAndName || withoutExtension(file).endsWith(`/${folderAndName}`);
}

/** Folders in common from the root; the very folder of the note is nearest. */
function sharedFolders(a: string, b: string): number {
  if (a === b) return Infinity;
  const foldersA = a === '' ? [] : a.split('/');
  const foldersB = b === '' ? [] : b.split('/');
  const apart = foldersA.findIndex((folder, depth) => folder !== foldersB[depth]);
  return apart === -1 ? foldersA.length : apart;
}
