import type { Chosen, Clip, Disagreement, ExposureFacts, LensFacts, PictureFacts, PositionFacts, ReadClip } from './clip.ts';
import type { ComparingContext } from './agreement.ts';
import { agrees } from './agreement.ts';
import { cameraLetter, clipNumberName, parseCameraName, rollName, stemOf } from './clip-names.ts';
import { clipTimecode } from './clip-timecode.ts';
import type { ClipNote } from './day.ts';
import type { GroupRules } from './group-rules.ts';
import { FIELDS } from './heading.ts';
import { shutterDegrees } from './shutter.ts';
import type { Source, Statement } from './statement.ts';
import type { SaidByField } from './trust.ts';
import { allOf, everythingSaid, firstOf, isHumanField, isSaidTogether, sayByField } from './trust.ts';
import { rateName } from '../timecode/rate.ts';

/** A clip with its facts chosen, before slate and role are decided. */
export type ResolvedClip = Omit<Clip, 'slate' | 'forSlate' | 'role' | 'roleEvidence' | 'roleConfidence'>;

/** A note that is about a clip. `humanOnly`: it speaks of the take, not of this camera (a log row without a camera letter). */
export interface TiedNote {
  readonly note: ClipNote;
  readonly humanOnly: boolean;
}

/** A resolved clip and everything said of it by field, for whoever decides the rest. */
export interface Resolved {
  readonly clip: ResolvedClip;
  readonly said: SaidByField;
}

/**
 * Chooses each fact of a clip by trust among all that is said of it, keeps all of it, and finds what contradicts the choice.
 * `added` is what neither file nor notes hold: corrections, and what the clip's name says.
 */
export function resolveClip(
  read: ReadClip, notes: readonly TiedNote[], added: readonly Statement[], tolerances: GroupRules['tolerances'],
): Resolved {
  const said = sayByField(read.statements, ...notes.map(statementsOf), added);
  const timecode = clipTimecode(said);
  const clip: Writable<ResolvedClip> = {
    id: read.file,
    file: read.file,
    kind: read.kind,
    usable: read.usable,
    complete: read.complete,
    completeness: read.completeness,
    decodable: read.decodable,
    sizeBytes: read.sizeBytes,
    notes: notesOf(said),
    lens: lensFacts(said),
    exposure: exposureFacts(said),
    position: positionFacts(said),
    picture: pictureFacts(said),
    tracks: notes.length === 0 ? read.tracks : [...read.tracks, ...notes.flatMap(({ note, humanOnly }) => (humanOnly ? [] : note.tracks))],
    statements: everythingSaid(said),
    disagreements: [],
    problems: timecode.problems.length === 0 ? read.problems : [...read.problems, ...timecode.problems],
  };
  identify(clip, said);
  choose(clip, 'circled', firstOf(said, 'circled')?.value);
  choose(clip, 'method', firstOf(said, 'method')?.value);
  choose(clip, 'date', firstOf(said, 'date')?.value);
  choose(clip, 'start', timecode.start);
  choose(clip, 'timecodeFormat', timecode.format);
  choose(clip, 'frames', read.frames ?? firstOf(said, 'frames')?.value);
  choose(clip, 'rate', firstOf(said, 'fps')?.value);
  choose(clip, 'sensorRate', firstOf(said, 'sensorFps')?.value);
  choose(clip, 'timecodeRate', firstOf(said, 'timecodeRate')?.value);
  choose(clip, 'sequence', read.sequence);
  clip.disagreements = findDisagreements(clip, said, read, tolerances);
  return { clip, said };
}

function statementsOf({ note, humanOnly }: TiedNote): readonly Statement[] {
  return humanOnly ? note.statements.filter(({ field }) => isHumanField(field)) : note.statements;
}

/** Camera letter, roll and clip number; from the clip's own name where nothing states them. */
function identify(clip: Writable<ResolvedClip>, said: SaidByField): void {
  const stated = firstOf(said, 'clip')?.value;
  const named = parseCameraName(stemOf(clip.file)) ?? (stated === undefined ? undefined : parseCameraName(stated));
  const letter = firstOf(said, 'camera')?.value ?? named?.camera;
  const roll = firstOf(said, 'roll')?.value ?? named?.roll;
  const number = stated ?? named?.clip;
  choose(clip, 'camera', letter === undefined ? undefined : cameraLetter(letter));
  choose(clip, 'roll', roll === undefined ? undefined : rollName(String(roll), clip.camera));
  choose(clip, 'clip', number === undefined ? undefined : clipNumberName(String(number)));
}

function notesOf(said: SaidByField): readonly string[] {
  const notes = allOf(said, 'notes').map(({ value }) => value);
  return notes.length < 2 ? notes : [...new Set(notes)];
}

function lensFacts(said: SaidByField): LensFacts {
  const lens: Writable<LensFacts> = {};
  choose(lens, 'model', firstOf(said, 'lens'));
  choose(lens, 'serial', firstOf(said, 'lensSerial'));
  choose(lens, 'focalLengthMm', firstOf(said, 'focalLength'));
  choose(lens, 'focusDistanceM', firstOf(said, 'focusDistance'));
  choose(lens, 'stop', firstOf(said, 'stop'));
  choose(lens, 'filters', firstOf(said, 'filters'));
  choose(lens, 'squeeze', firstOf(said, 'squeeze'));
  return lens;
}

function exposureFacts(said: SaidByField): ExposureFacts {
  const exposure: Writable<ExposureFacts> = {};
  choose(exposure, 'shutterDeg', shutterFact(said));
  choose(exposure, 'ei', firstOf(said, 'ei'));
  choose(exposure, 'whiteBalanceK', firstOf(said, 'whiteBalance'));
  choose(exposure, 'tint', firstOf(said, 'tint'));
  return exposure;
}

/** A time becomes an angle at the sensor's rate; at the file's, and said so, when nobody states the sensor's. */
function shutterFact(said: SaidByField): Chosen<number> | undefined {
  const shutter = firstOf(said, 'shutter');
  const sensorRate = firstOf(said, 'sensorFps')?.value;
  const rate = sensorRate ?? firstOf(said, 'fps')?.value;
  const degrees = shutter === undefined ? undefined : shutterDegrees(shutter.value, rate);
  if (shutter === undefined || degrees === undefined) return undefined;
  const assumed = shutter.value.kind === 'time' && sensorRate === undefined && rate !== undefined;
  const raw = assumed ? `${shutter.raw} (at the file's ${rateName(rate)} fps: no sensor rate is stated)` : shutter.raw;
  return { value: degrees, source: shutter.source, raw };
}

function positionFacts(said: SaidByField): PositionFacts {
  const position: Writable<PositionFacts> = {};
  choose(position, 'heightM', firstOf(said, 'cameraHeight'));
  choose(position, 'tiltDeg', firstOf(said, 'tilt'));
  choose(position, 'rollDeg', firstOf(said, 'rollAngle'));
  choose(position, 'subjectDistanceM', firstOf(said, 'subjectDistance'));
  choose(position, 'backgroundDistanceM', firstOf(said, 'backgroundDistance'));
  return position;
}

function pictureFacts(said: SaidByField): PictureFacts {
  const picture: Writable<PictureFacts> = {};
  choose(picture, 'raster', firstOf(said, 'raster'));
  choose(picture, 'codec', firstOf(said, 'codec'));
  choose(picture, 'cameraModel', firstOf(said, 'cameraModel'));
  choose(picture, 'cameraSerial', firstOf(said, 'cameraSerial'));
  return picture;
}

type Writable<T> = { -readonly [K in keyof T]: T[K] };

/** Puts down what is known; what is not stays absent. */
function choose<T, K extends keyof T>(facts: T, name: K, said: T[K] | undefined): void {
  if (said !== undefined) facts[name] = said;
}

/** Every statement that contradicts the chosen one of its field; a source that says the same wrong thing twice is told once. */
function findDisagreements(clip: ResolvedClip, said: SaidByField, read: ReadClip, tolerances: GroupRules['tolerances']): readonly Disagreement[] {
  const context: ComparingContext = {
    ...tolerances,
    shutterRate: clip.sensorRate ?? clip.rate,
    timecodeFormat: clip.timecodeFormat,
    serialBeside: (statement) => serialBeside(statement, said),
  };
  const found: Disagreement[] = [];
  const compare = (chosen: Statement, others: readonly Statement[]): void => {
    for (const other of others) {
      if (other === chosen || agrees(chosen, other, context)) continue;
      const isTold = found.some((told) => told.chosen === chosen && told.other.raw === other.raw && told.other.source.file === other.source.file);
      if (!isTold) found.push({ field: chosen.field, chosen, other });
    }
  };
  const [frames] = allOf(said, 'frames');
  if (frames !== undefined) compare(countedFrames(read, frames), allOf(said, 'frames'));
  for (const [chosen, ...others] of said.several.values()) if (chosen !== undefined && chosen.field !== 'frames') compare(chosen, others);
  return found.length < 2 ? found : inOrderOfFields(found);
}

function inOrderOfFields(found: readonly Disagreement[]): readonly Disagreement[] {
  return found.toSorted((a, b) => FIELDS.indexOf(a.field) - FIELDS.indexOf(b.field));
}

/** Pictures counted in the file beat every stated number of them. */
function countedFrames(read: ReadClip, stated: Statement): Statement {
  if (read.frames === undefined) return stated;
  const source: Source = { kind: 'embedded', file: read.file, place: 'pictures counted' };
  return { field: 'frames', value: read.frames, raw: String(read.frames), source };
}

/** Serial of the lens stated by the same row or file as a statement. */
function serialBeside({ source }: Statement, said: SaidByField): string | undefined {
  return allOf(said, 'lensSerial').find((serial) => isSaidTogether(serial.source, source))?.value;
}
