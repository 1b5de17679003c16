import type { ReadClip, Role } from '../src/core/material/clip.ts';
import type { ClipNote, ReadDay } from '../src/core/material/day.ts';
import type { ShotRow } from '../src/core/material/shot-list.ts';
import type { Field, FieldValues, SourceKind, Statement } from '../src/core/material/statement.ts';
import { frameRate } from '../src/core/timecode/rate.ts';
import { formatTimecode } from '../src/core/timecode/timecode.ts';

const FORMAT = { base: 24, drop: false };
const LETTERS = 'ABCDEFGHJKLMNPQRSTUVWXYZ';
const CAMERAS = ['A', 'B', 'C'];
const CLIPS_A_DAY = 1600;
const CLIPS_A_ROLL = 40;

/** What is shot of one set-up: three lead takes, three swapped passes, two clean plates, the second of each circled. */
const PASSES: readonly { readonly role: Role; readonly word: string; readonly circled: boolean }[] = [
  ...['first', 'second', 'third'].map((name) => ({ role: 'lead' as const, word: 'lead', circled: name === 'second' })),
  ...['first', 'second', 'third'].map((name) => ({ role: 'swapped' as const, word: 'swapped', circled: name === 'second' })),
  ...['first', 'second'].map((name) => ({ role: 'clean' as const, word: 'clean plate', circled: name === 'second' })),
];

/**
 * A production of many days on three cameras, `clips` clips in all, as the read step hands it on. Every tenth set-up has its
 * swapped passes slated for another one, every seventh no circled swapped pass, every fifth a swapped pass on another lens.
 */
export function inventDay(clips: number): ReadDay {
  const read: ReadClip[] = [];
  const notes: ClipNote[] = [];
  const shots: ShotRow[] = [];
  for (let set = 0; read.length < clips; set++) {
    const camera = CAMERAS[set % CAMERAS.length] ?? 'A';
    const setUp = setUpName(set);
    for (const [index, pass] of PASSES.entries()) {
      if (read.length === clips) break;
      const place = Math.floor(set / CAMERAS.length) * PASSES.length + index;
      const clip = inventClip(camera, place);
      read.push(clip);
      const misread = set % 10 === 0 && pass.role === 'swapped';
      const slate = `${misread ? setUpName(set + 12_000) : setUp}-${index + 1}`;
      const circled = pass.circled && !(set % 7 === 0 && pass.role === 'swapped');
      const lensSerial = set % 5 === 3 && pass.role === 'swapped' ? '4712' : '4711';
      const values: Facts = {
        file: clip.file.slice(clip.file.lastIndexOf('/') + 1), slate, pass: pass.word, circled, lens: 'Prime 35', lensSerial, focalLength: 35,
        stop: { kind: 'T', number: 2.8 }, filters: { text: 'ND.6', ndDensity: 0.6 }, cameraHeight: 1.42, tilt: -2.5,
      };
      const line = `line ${read.length + 1}`;
      notes.push({ kind: 'report', file: 'report.csv', place: line, folder: '', statements: state('report', 'report.csv', line, values), tracks: [] });
    }
    shots.push(inventShot(set, camera, setUp));
  }
  return { clips: read, notes, shots, marks: [], problems: [] };
}

type Facts = Partial<FieldValues>;

/** The n-th clip of a camera; they follow each other every 80 seconds from 7 in the morning on. */
function inventClip(camera: string, place: number): ReadClip {
  const perDay = Math.floor(CLIPS_A_DAY / CAMERAS.length);
  const day = Math.floor(place / perDay);
  const roll = `${camera}${String(Math.floor(place / CLIPS_A_ROLL) + 1).padStart(3, '0')}`;
  const clip = `C${String((place % CLIPS_A_ROLL) + 1).padStart(3, '0')}`;
  const file = `${roll}/${roll}${clip}_261125_R7QK.mov`;
  const date = new Date(Date.UTC(2026, 0, 5 + day)).toISOString().slice(0, 10);
  const values: Facts = {
    fps: frameRate(24), frames: 240, tcIn: startOf(place), raster: { width: 3840, height: 2160 }, codec: 'prores', cameraModel: 'Invented 4K', ei: 800, date,
    shutter: { kind: 'angle', degrees: 180 },
  };
  return {
    file,
    kind: 'movie',
    statements: [...state('embedded', file, 'moov', values), ...state('name', file, 'file name', { camera, roll, clip })],
    tracks: [],
    frames: 240,
    complete: true,
    completeness: 'every frame of the index lies inside the file',
    sizeBytes: 1_000_000 + place,
    decodable: true,
    problems: [],
    usable: true,
  };
}

function startOf(place: number, framesLater = 0): string {
  const inDay = place % Math.floor(CLIPS_A_DAY / CAMERAS.length);
  return formatTimecode({ frame: (7 * 3600 + 80 * inDay) * 24 + framesLater, format: FORMAT });
}

/** The shot uses the second lead take of the set-up, from its first second to its eighth. */
function inventShot(set: number, camera: string, slate: string): ShotRow {
  const place = Math.floor(set / CAMERAS.length) * PASSES.length + 1;
  const cut = { cutIn: startOf(place, 24), cutOut: startOf(place, 192) };
  return { shot: `TW_${set}`, slate, take: 2, camera, ...cut, handles: {}, from: `shots.csv line ${set + 2}` };
}

function setUpName(set: number): string {
  return `${1 + Math.floor(set / LETTERS.length)}${LETTERS[set % LETTERS.length] ?? 'A'}`;
}

function state(kind: SourceKind, file: string, place: string, values: Facts): Statement[] {
  // Each field keeps its own type through the object, which Object.entries forgets.
  return Object.entries(values).map(
    ([field, value]) => ({ field: field as Field, value, raw: JSON.stringify(value), source: { kind, file, place: `${place}, ${field}` } }) as Statement,
  );
}
