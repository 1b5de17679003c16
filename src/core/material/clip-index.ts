import type { ReadClip } from './clip.ts';
import { cameraLetter, clipNumberName, foldName, folderOf, parseCameraName, rollNumber, stemOf } from './clip-names.ts';
import type { ClipNote } from './day.ts';
import type { Field } from './statement.ts';

/** Finds clips by what a note may call them. Numbers are places in the list the index was made of. */
export interface ClipIndex {
  /** By base name: `A003C012_261125_R7QK`, with or without extension, or the short name it begins with. */
  byName(name: string): readonly number[];
  /** The same among the clips of one folder; a sequence also counts as lying beside its own folder. */
  byNameIn(folder: string, name: string): readonly number[];
  /** By camera letter (or any, when the note names none), roll and clip number. */
  byNumbers(camera: string | undefined, roll: number, clip: string): readonly number[];
}

/** Makes the index: hash maps, so that a lookup costs the same for ten clips and for fifty thousand. */
export function indexClips(clips: readonly ReadClip[]): ClipIndex {
  const names = new Map<string, number[]>();
  const inFolder = new Map<string, number[]>();
  const numbers = new Map<string, number[]>();
  clips.forEach((clip, place) => {
    const folders = foldersOf(clip);
    for (const name of namesOf(clip)) {
      add(names, name, place);
      for (const folder of folders) add(inFolder, `${folder}/${name}`, place);
    }
    for (const key of numberKeysOf(clip)) add(numbers, key, place);
  });
  return {
    byName: (name) => names.get(foldName(name)) ?? [],
    byNameIn: (folder, name) => inFolder.get(`${folder}/${foldName(name)}`) ?? [],
    byNumbers: (camera, roll, clip) => numbers.get(`${camera ?? ''}|${roll}|${clip}`) ?? [],
  };
}

/** The first text a note states for a field. */
export function textOf(note: Pick<ClipNote, 'statements'>, field: Extract<Field, 'file' | 'camera' | 'roll' | 'clip' | 'tcIn' | 'date'>): string | undefined {
  const statement = note.statements.find((each) => each.field === field);
  return typeof statement?.value === 'string' ? statement.value : undefined;
}

function foldersOf({ file, kind }: ReadClip): readonly string[] {
  const folder = folderOf(file);
  return kind === 'sequence' && folder !== '' ? [folder, folderOf(folder)] : [folder];
}

function namesOf(clip: ReadClip): ReadonlySet<string> {
  const stem = stemOf(clip.file);
  const file = clip.file.slice(clip.file.lastIndexOf('/') + 1);
  const names = new Set([foldName(stem), foldName(file)]);
  // A sequence is often called by its folder.
  if (clip.kind === 'sequence') names.add(foldName(folderOf(clip.file).split('/').at(-1) ?? stem));
  const named = parseCameraName(stem);
  if (named !== undefined) names.add(foldName(named.short));
  names.delete('');
  return names;
}

function numberKeysOf({ file, statements }: ReadClip): ReadonlySet<string> {
  const cameras = new Set<string>();
  const rolls = new Set<number>();
  const clips = new Set<string>();
  const named = parseCameraName(stemOf(file));
  if (named !== undefined) {
    cameras.add(named.camera);
    rolls.add(named.roll);
    clips.add(clipNumberName(String(named.clip)));
  }
  for (const { field, value } of statements) {
    if (field === 'camera') cameras.add(cameraLetter(value));
    if (field === 'clip') clips.add(clipNumberName(value));
    const roll = field === 'roll' ? rollNumber(value) : undefined;
    if (roll !== undefined) rolls.add(roll);
  }
  const keys = new Set<string>();
  for (const camera of ['', ...cameras]) for (const roll of rolls) for (const clip of clips) keys.add(`${camera}|${roll}|${clip}`);
  return keys;
}

function add(map: Map<string, number[]>, key: string, place: number): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [place]);
  else list.push(place);
}
