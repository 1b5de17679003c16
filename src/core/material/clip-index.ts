import type { ReadClip } from './clip.ts';
import type { CameraName } from './clip-names.ts';
import { cameraLetter, clipNumberName, foldName, folderOf, parseCameraName, rollNumber, stemOf } from './clip-names.ts';
import type { ClipNote } from './day.ts';
import type { Field, Statement } from './statement.ts';

/** Finds clips by what a note may call them. Numbers are places in the list the index was made of. */
export interface ClipIndex {
  /** By base name: `A003C012_261125_R7QK`, with or without extension, or the short name it begins with. */
  byName(name: string): readonly number[];
  /** The same among the clips of one folder; a sequence also counts as lying beside its own folder. */
  byNameIn(folder: string, name: string): readonly number[];
  /** By camera letter (or any, when the note names none), roll and clip number. */
  byNumbers(camera: string | undefined, roll: number, clip: string): readonly number[];
  /** By clip number on whatever roll, and camera letter where the note names one. */
  byClip(camera: string | undefined, clip: string): readonly number[];
}

/** Makes the index: hash maps, so that a lookup costs the same for ten clips and for fifty thousand. */
export function indexClips(clips: readonly ReadClip[]): ClipIndex {
  const named = clips.map((clip) => ({ clip, camera: parseCameraName(stemOf(clip.file)) }));
  const names = new Map<string, number[]>();
  named.forEach(({ clip, camera }, place) => {
    for (const name of namesOf(clip, camera)) add(names, name, place);
  });
  const byName = (name: string): readonly number[] => names.get(foldName(name)) ?? NONE;
  // Both of these are made only for days whose notes ask for them.
  const inFolder = new Map<string, ReadonlyMap<string, readonly number[]>>();
  let numbers: ReadonlyMap<string, readonly number[]> | undefined;
  let onAnyRoll: ReadonlyMap<string, readonly number[]> | undefined;
  return {
    byName,
    byNameIn: (folder, name) => {
      const places = byName(name);
      if (places.length < 2) return places.filter((place) => liesIn(clips[place], folder));
      const folded = foldName(name);
      const byFolder = inFolder.get(folded) ?? indexFolders(places, clips);
      inFolder.set(folded, byFolder);
      return byFolder.get(folder) ?? NONE;
    },
    byNumbers: (camera, roll, clip) => {
      numbers ??= indexNumbers(named);
      return numbers.get(`${camera ?? ''}|${roll}|${clip}`) ?? NONE;
    },
    byClip: (camera, clip) => {
      onAnyRoll ??= indexByKey(named, ({ cameras, clips: all }) => cameras.flatMap((letter) => all.map((number) => `${letter}|${number}`)));
      return onAnyRoll.get(`${camera ?? ''}|${clip}`) ?? NONE;
    },
  };
}

/** The first text a note states for a field. */
export function textOf(note: Pick<ClipNote, 'statements'>, field: Extract<Field, 'file' | 'camera' | 'roll' | 'clip' | 'tcIn' | 'date'>): string | undefined {
  for (const statement of note.statements) if (statement.field === field) return typeof statement.value === 'string' ? statement.value : undefined;
  return undefined;
}

const NONE: readonly number[] = [];

/** A clip's names: with and without extension, a sequence's folder, and the short name of a camera's full one. */
function namesOf({ file, kind }: ReadClip, camera: CameraName | undefined): ReadonlySet<string> {
  const names = new Set([foldName(stemOf(file)), foldName(file.slice(file.lastIndexOf('/') + 1))]);
  if (kind === 'sequence') names.add(foldName(folderOf(file).slice(folderOf(file).lastIndexOf('/') + 1)));
  if (camera !== undefined) names.add(foldName(camera.short));
  names.delete('');
  return names;
}

function indexFolders(places: readonly number[], clips: readonly ReadClip[]): ReadonlyMap<string, readonly number[]> {
  const byFolder = new Map<string, number[]>();
  for (const place of places) {
    const clip = clips[place];
    for (const folder of clip === undefined ? [] : foldersOf(clip)) add(byFolder, folder, place);
  }
  return byFolder;
}

function liesIn(clip: ReadClip | undefined, folder: string): boolean {
  return clip !== undefined && foldersOf(clip).includes(folder);
}

function foldersOf({ file, kind }: ReadClip): readonly string[] {
  const folder = folderOf(file);
  return kind === 'sequence' && folder !== '' ? [folder, folderOf(folder)] : [folder];
}

function indexNumbers(named: readonly NamedClip[]): ReadonlyMap<string, readonly number[]> {
  return indexByKey(named, ({ cameras, rolls, clips }) => cameras.flatMap((camera) => rolls.flatMap((roll) => clips.map((clip) => `${camera}|${roll}|${clip}`))));
}

function indexByKey(named: readonly NamedClip[], keysOf: (numbers: ClipNumbers & { readonly cameras: readonly string[] }) => readonly string[]): ReadonlyMap<string, readonly number[]> {
  const index = new Map<string, number[]>();
  named.forEach(({ clip: { statements }, camera }, place) => {
    const cameras = camera === undefined ? [''] : ['', camera.camera];
    for (const { field, value } of statements) if (field === 'camera') addNew(cameras, cameraLetter(value));
    for (const key of keysOf({ ...numbersOf(statements, camera), cameras })) add(index, key, place);
  });
  return index;
}

interface NamedClip {
  readonly clip: ReadClip;
  readonly camera: CameraName | undefined;
}

/** Every roll and clip number that anything gives a clip. */
export interface ClipNumbers {
  readonly rolls: readonly number[];
  readonly clips: readonly string[];
}

/** Every way a note may put the numbers of a clip: its sources need not write them alike. */
export function numbersOf(statements: readonly Statement[], named: CameraName | undefined): ClipNumbers {
  const rolls = named === undefined ? [] : [named.roll];
  const clips = named === undefined ? [] : [clipNumberName(String(named.clip))];
  for (const { field, value } of statements) {
    if (field === 'clip') addNew(clips, clipNumberName(value));
    else if (field === 'roll') addNew(rolls, rollNumber(value) ?? -1);
  }
  return { rolls, clips };
}

function addNew<T>(list: T[], value: T): void {
  if (!list.includes(value)) list.push(value);
}

function add(map: Map<string, number[]>, key: string, place: number): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [place]);
  else list.push(place);
}
