import type { FrameRange } from '../timecode/range.ts';
import type { FrameRate } from '../timecode/rate.ts';
import type { Timecode, TimecodeFormat } from '../timecode/timecode.ts';
import type { Slate } from '../slate/slate.ts';
import type { Field, Filters, FrameTrack, Raster, Source, Statement, Stop } from './statement.ts';
import type { ClipId } from './clip-id.ts';
import type { ReadingProblem } from './finding.ts';

export type { ClipId } from './clip-id.ts';

export type ClipKind = 'movie' | 'sequence' | 'header-only';
export type Role = 'lead' | 'swapped' | 'clean' | 'reference' | 'element' | 'unknown';

/** What the read step found in one clip: facts with their sources, nothing decided yet. */
export interface ReadClip {
  /** Relative to the media root, "/" between folders; a sequence is `folder/name.####.ext`. */
  readonly file: string;
  readonly kind: ClipKind;
  /** From the file itself and its name; sidecars and reports are tied to it by the group step. */
  readonly statements: readonly Statement[];
  readonly tracks: readonly FrameTrack[];
  /** Pictures counted in the file (files, for a sequence). */
  readonly frames?: number;
  /** Whether the file is all there: false when cut off or still being written, null when nothing in it can tell. */
  readonly complete: boolean | null;
  /** Why `complete` is what it is, in words. */
  readonly completeness: string;
  readonly sequence?: SequenceFacts;
  readonly sizeBytes: number;
  /** Whether the pictures can be decoded here; the reason when not. */
  readonly decodable: boolean;
  readonly problems: readonly ReadingProblem[];
  /** False when nothing can be judged by it (unreadable, cut off, still growing): it is listed, never matched. */
  readonly usable: boolean;
}

/** The numbering of an image sequence. Numbers are those in the file names; `missing` are half-open runs of absent numbers. */
export interface SequenceFacts {
  readonly first: number;
  readonly last: number;
  readonly padding: number;
  readonly missing: readonly FrameRange[];
}

/** A value gemel goes by, and where it came from. `others` disagree with it (already beyond the reading tolerance). */
export interface Chosen<T> {
  readonly value: T;
  readonly source: Source;
  readonly raw: string;
}

/** The lens as far as it is known. Distances in metres, focal length in mm. */
export interface LensFacts {
  readonly model?: Chosen<string>;
  readonly serial?: Chosen<string>;
  readonly focalLengthMm?: Chosen<number>;
  readonly focusDistanceM?: Chosen<number>;
  readonly stop?: Chosen<Stop>;
  readonly filters?: Chosen<Filters>;
  readonly squeeze?: Chosen<number>;
}

/** Exposure: shutter in degrees at the sensor rate, EI, kelvin, tint as the maker counts it. */
export interface ExposureFacts {
  readonly shutterDeg?: Chosen<number>;
  readonly ei?: Chosen<number>;
  readonly whiteBalanceK?: Chosen<number>;
  readonly tint?: Chosen<number>;
}

/** Where the camera stood: metres and degrees, from reports or from the camera's own sensors. */
export interface PositionFacts {
  readonly heightM?: Chosen<number>;
  readonly tiltDeg?: Chosen<number>;
  readonly rollDeg?: Chosen<number>;
  readonly subjectDistanceM?: Chosen<number>;
  readonly backgroundDistanceM?: Chosen<number>;
}

/** The recorded picture and the body that recorded it. */
export interface PictureFacts {
  readonly raster?: Chosen<Raster>;
  readonly codec?: Chosen<string>;
  readonly cameraModel?: Chosen<string>;
  readonly cameraSerial?: Chosen<string>;
}

/** One piece of evidence for a role, strongest kind first in a list. `weight` 0..1. */
export interface RoleEvidence {
  readonly role: Role;
  readonly kind: 'correction' | 'log' | 'slate' | 'note' | 'name' | 'order';
  readonly weight: number;
  readonly words: string;
}

/** A disagreement between sources of one field, after tolerances. */
export interface Disagreement {
  readonly field: Field;
  readonly chosen: Statement;
  readonly other: Statement;
}

/** One clip as the rest of gemel sees it: facts chosen by trust, slate and role decided with evidence. */
export interface Clip {
  readonly id: ClipId;
  readonly file: string;
  readonly kind: ClipKind;
  readonly usable: boolean;
  readonly complete: boolean | null;
  readonly completeness: string;
  readonly decodable: boolean;
  readonly sizeBytes: number;
  /** Camera letter, upper case. */
  readonly camera?: string;
  readonly roll?: string;
  readonly clip?: string;
  readonly slate?: Slate;
  /** The slate this clip says it is for ("for 27B"), when it was slated otherwise. */
  readonly forSlate?: Slate;
  readonly role: Role;
  readonly roleEvidence: readonly RoleEvidence[];
  /** 0..1; below 0.5 the role is a guess from shooting order. */
  readonly roleConfidence: number;
  readonly circled?: boolean;
  readonly method?: string;
  readonly notes: readonly string[];
  readonly date?: string;
  /** Timecode of the first frame. */
  readonly start?: Timecode;
  readonly timecodeFormat?: TimecodeFormat;
  /** Pictures in the clip. */
  readonly frames?: number;
  /** Playback rate of the file. */
  readonly rate?: FrameRate;
  /** Rate the sensor ran at; absent when nobody says. */
  readonly sensorRate?: FrameRate;
  /** Rate the timecode counts at, when stated apart from the file's. */
  readonly timecodeRate?: FrameRate;
  readonly lens: LensFacts;
  readonly exposure: ExposureFacts;
  readonly position: PositionFacts;
  readonly picture: PictureFacts;
  readonly sequence?: SequenceFacts;
  readonly tracks: readonly FrameTrack[];
  readonly statements: readonly Statement[];
  readonly disagreements: readonly Disagreement[];
  readonly problems: readonly ReadingProblem[];
}
