import type { Clip, ClipId, Role } from '../material/clip.ts';
import type { Correction } from '../material/correction.ts';
import type { RoleWord } from '../material/group-rules.ts';
import type { MoveMark, ShotRow } from '../material/shot-list.ts';
import type { TiedMove } from '../material/tracked-move.ts';
import type { Tolerances } from '../material/tolerance.ts';
import type { SensorMode } from '../optics/sensor-mode.ts';
import type { LeadPictures } from './lead-pictures.ts';
import type { Handles } from '../timecode/range.ts';
import type { FrameRate } from '../timecode/rate.ts';

/** What checking goes by. A pipeline's configuration satisfies it as it stands. */
export interface CheckRules {
  readonly tolerances: Tolerances;
  /** Sensor sizes, for figures in px. */
  readonly sensorModes: readonly SensorMode[];
  readonly handles: Handles;
  readonly minCleanFrames: number;
  /** How bad it is that nothing of a lens is on record; `warn` when nobody says. */
  readonly notOnRecord?: 'warn' | 'note';
  readonly corrections: readonly Correction[];
  /** Under this margin a match is ambiguous. */
  readonly ambiguityMargin: number;
  /** The rate the show is cut at, where the pipeline says. */
  readonly baseRate: FrameRate | undefined;
  /** Which pass a row of the move notes is about. */
  readonly roleWords?: readonly RoleWord[];
}

/** Finds a clip of the day by its id. */
export type ClipOf = (id: ClipId) => Clip | undefined;

/** What a set must know of the day around it. */
export interface DayAround {
  readonly clipOf: ClipOf;
  /** Rows of the shot list, and marks of moves, for the set-up of one of these clips, whatever its take. */
  readonly shotsFor: (clips: readonly Clip[]) => readonly ShotRow[];
  readonly marksFor: (clips: readonly Clip[]) => readonly MoveMark[];
  /** Moves that trackers recorded of a clip; absent when the day has none. */
  readonly movesOf?: (clip: Clip) => readonly TiedMove[];
  /** What the pictures of a lead and its passes say; absent when none were looked at. */
  readonly picturesOf?: (lead: ClipId) => LeadPictures | undefined;
  /** The lead of another set that a clip may belong to, when matching proposes so. */
  readonly belongsTo?: (clip: ClipId) => { readonly lead: Clip; readonly role: Role } | undefined;
  /** Clips that are one recording with another clip of the day: few, as a rule none. */
  readonly twins: ReadonlySet<ClipId>;
  /** Corrections that name one of these clips. */
  readonly correctionsFor: (clips: ReadonlySet<ClipId>) => readonly Correction[];
}
