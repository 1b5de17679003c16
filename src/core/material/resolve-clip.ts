import type { Writable } from './chosen-facts.ts';
import { choose, exposureFacts, lensFacts, pictureFacts, positionFacts } from './chosen-facts.ts';
import type { Clip, ReadClip } from './clip.ts';
import { cameraLetter, clipNumberName, parseCameraName, rollName, stemOf } from './clip-names.ts';
import { clipTimecode } from './clip-timecode.ts';
import type { ClipNote } from './day.ts';
import { findDisagreements } from './disagreements.ts';
import type { GroupRules } from './group-rules.ts';
import type { Statement } from './statement.ts';
import type { SaidByField } from './trust.ts';
import { allOf, everythingSaid, firstOf, isHumanField, sayByField } from './trust.ts';

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
  clip.disagreements = findDisagreements(clip, said, read.frames, tolerances);
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
