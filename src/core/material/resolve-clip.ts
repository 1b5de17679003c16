import type { Clip, Disagreement, ExposureFacts, LensFacts, PictureFacts, PositionFacts, ReadClip } from './clip.ts';
import type { ComparingContext } from './agreement.ts';
import { agrees } from './agreement.ts';
import { cameraLetter, clipNumberName, parseCameraName, rollName, stemOf } from './clip-names.ts';
import { clipTimecode } from './clip-timecode.ts';
import type { ClipNote } from './day.ts';
import type { GroupRules } from './group-rules.ts';
import { FIELDS } from './heading.ts';
import { shutterDegrees } from './shutter.ts';
import type { Field, Source, Statement } from './statement.ts';
import type { SaidByField } from './trust.ts';
import { allOf, firstOf, isHumanField, sayByField, sourceUnit } from './trust.ts';
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
  const said = sayByField([...read.statements, ...notes.flatMap(statementsOf), ...added]);
  const timecode = clipTimecode(said);
  const rate = firstOf(said, 'fps')?.value;
  const sensorRate = firstOf(said, 'sensorFps')?.value;
  const timecodeRate = firstOf(said, 'timecodeRate')?.value;
  const frames = read.frames ?? firstOf(said, 'frames')?.value;
  const clip: ResolvedClip = {
    id: read.file,
    file: read.file,
    kind: read.kind,
    usable: read.usable,
    complete: read.complete,
    completeness: read.completeness,
    decodable: read.decodable,
    sizeBytes: read.sizeBytes,
    ...identity(read, said),
    ...shooting(said),
    ...(timecode.start === undefined ? {} : { start: timecode.start }),
    ...(timecode.format === undefined ? {} : { timecodeFormat: timecode.format }),
    ...(frames === undefined ? {} : { frames }),
    ...(rate === undefined ? {} : { rate }),
    ...(sensorRate === undefined ? {} : { sensorRate }),
    ...(timecodeRate === undefined ? {} : { timecodeRate }),
    lens: lensFacts(said),
    exposure: exposureFacts(said),
    position: positionFacts(said),
    picture: pictureFacts(said),
    ...(read.sequence === undefined ? {} : { sequence: read.sequence }),
    tracks: notes.length === 0 ? read.tracks : [...read.tracks, ...notes.flatMap(({ note, humanOnly }) => (humanOnly ? [] : note.tracks))],
    statements: FIELDS.flatMap((field) => said.get(field) ?? []),
    disagreements: [],
    problems: timecode.problems.length === 0 ? read.problems : [...read.problems, ...timecode.problems],
  };
  const disagreements = findDisagreements(clip, said, read, tolerances);
  return { clip: disagreements.length === 0 ? clip : { ...clip, disagreements }, said };
}

function statementsOf({ note, humanOnly }: TiedNote): readonly Statement[] {
  return humanOnly ? note.statements.filter(({ field }) => isHumanField(field)) : note.statements;
}

/** Camera letter, roll and clip number; from the clip's own name where nothing states them. */
function identity(read: ReadClip, said: SaidByField): Pick<Clip, 'camera' | 'roll' | 'clip'> {
  const named = parseCameraName(stemOf(read.file)) ?? parseCameraName(firstOf(said, 'clip')?.value ?? '');
  const stated = firstOf(said, 'camera')?.value;
  const camera = stated === undefined ? named?.camera : cameraLetter(stated);
  const roll = firstOf(said, 'roll')?.value ?? (named === undefined ? undefined : `${named.camera}${String(named.roll).padStart(3, '0')}`);
  const clip = firstOf(said, 'clip')?.value ?? (named === undefined ? undefined : String(named.clip));
  return {
    ...(camera === undefined ? {} : { camera }),
    ...(roll === undefined ? {} : { roll: rollName(roll, camera) }),
    ...(clip === undefined ? {} : { clip: clipNumberName(clip) }),
  };
}

function shooting(said: SaidByField): Pick<Clip, 'circled' | 'method' | 'notes' | 'date'> {
  const circled = firstOf(said, 'circled')?.value;
  const method = firstOf(said, 'method')?.value;
  const date = firstOf(said, 'date')?.value;
  return {
    ...(circled === undefined ? {} : { circled }),
    ...(method === undefined ? {} : { method }),
    notes: said.has('notes') ? [...new Set(allOf(said, 'notes').map(({ value }) => value))] : NO_NOTES,
    ...(date === undefined ? {} : { date }),
  };
}

const NO_NOTES: readonly string[] = [];

function lensFacts(said: SaidByField): LensFacts {
  return {
    ...fact('model', firstOf(said, 'lens')),
    ...fact('serial', firstOf(said, 'lensSerial')),
    ...fact('focalLengthMm', firstOf(said, 'focalLength')),
    ...fact('focusDistanceM', firstOf(said, 'focusDistance')),
    ...fact('stop', firstOf(said, 'stop')),
    ...fact('filters', firstOf(said, 'filters')),
    ...fact('squeeze', firstOf(said, 'squeeze')),
  };
}

function exposureFacts(said: SaidByField): ExposureFacts {
  return {
    ...shutterFact(said),
    ...fact('ei', firstOf(said, 'ei')),
    ...fact('whiteBalanceK', firstOf(said, 'whiteBalance')),
    ...fact('tint', firstOf(said, 'tint')),
  };
}

/** A time becomes an angle at the sensor's rate; at the file's, and said so, when nobody states the sensor's. */
function shutterFact(said: SaidByField): Pick<ExposureFacts, 'shutterDeg'> {
  const shutter = firstOf(said, 'shutter');
  const sensorRate = firstOf(said, 'sensorFps')?.value;
  const rate = sensorRate ?? firstOf(said, 'fps')?.value;
  const degrees = shutter === undefined ? undefined : shutterDegrees(shutter.value, rate);
  if (shutter === undefined || degrees === undefined) return {};
  const assumed = shutter.value.kind === 'time' && sensorRate === undefined && rate !== undefined;
  const raw = assumed ? `${shutter.raw} (at the file's ${rateName(rate)} fps: no sensor rate is stated)` : shutter.raw;
  return { shutterDeg: { value: degrees, source: shutter.source, raw } };
}

function positionFacts(said: SaidByField): PositionFacts {
  return {
    ...fact('heightM', firstOf(said, 'cameraHeight')),
    ...fact('tiltDeg', firstOf(said, 'tilt')),
    ...fact('rollDeg', firstOf(said, 'rollAngle')),
    ...fact('subjectDistanceM', firstOf(said, 'subjectDistance')),
    ...fact('backgroundDistanceM', firstOf(said, 'backgroundDistance')),
  };
}

function pictureFacts(said: SaidByField): PictureFacts {
  return {
    ...fact('raster', firstOf(said, 'raster')),
    ...fact('codec', firstOf(said, 'codec')),
    ...fact('cameraModel', firstOf(said, 'cameraModel')),
    ...fact('cameraSerial', firstOf(said, 'cameraSerial')),
  };
}

interface Said<T> {
  readonly value: T;
  readonly raw: string;
  readonly source: Source;
}

function fact<K extends string, T>(name: K, said: Said<T> | undefined): { readonly [N in K]?: Said<T> } {
  if (said === undefined) return {};
  const made: { [N in K]?: Said<T> } = {};
  made[name] = { value: said.value, source: said.source, raw: said.raw };
  return made;
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
  for (const [field, statements] of said) {
    const chosen = field === 'frames' ? countedFrames(read, statements) : statements[0];
    if (chosen === undefined || statements.length + (field === 'frames' ? 1 : 0) < 2) continue;
    for (const other of statements) {
      if (other === chosen || agrees(chosen, other, context)) continue;
      if (!found.some((told) => told.field === field && told.other.raw === other.raw && told.other.source.file === other.source.file)) {
        found.push({ field, chosen, other });
      }
    }
  }
  return found.sort(byField);
}

/** Pictures counted in the file beat every stated number of them. */
function countedFrames(read: ReadClip, statements: readonly Statement[]): Statement | undefined {
  if (read.frames === undefined) return statements[0];
  const source: Source = { kind: 'embedded', file: read.file, place: 'pictures counted' };
  return { field: 'frames', value: read.frames, raw: String(read.frames), source };
}

/** Serial of the lens stated by the same row or file as a statement. */
function serialBeside({ source }: Statement, said: SaidByField): string | undefined {
  return allOf(said, 'lensSerial').find((serial) => sourceUnit(serial.source) === sourceUnit(source))?.value;
}

const PLACE_OF: ReadonlyMap<Field, number> = new Map(FIELDS.map((field, place) => [field, place]));

function byField(a: Disagreement, b: Disagreement): number {
  return (PLACE_OF.get(a.field) ?? 0) - (PLACE_OF.get(b.field) ?? 0);
}
