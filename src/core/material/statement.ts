import type { FrameRate } from '../timecode/rate.ts';

/** Which kind of place a value was read from. The order of trust is kept in one place, `trust.ts`. */
export type SourceKind = 'correction' | 'embedded' | 'sidecar' | 'report' | 'name' | 'note';

/** Where a value was read: the kind of place, the file (relative to the media root) and the place in it ("line 4, column T-Stop", "tmcd track"). */
export interface Source {
  readonly kind: SourceKind;
  readonly file: string;
  readonly place: string;
}

/** A shutter as written: an angle, or an exposure time. The angle of a time needs the sensor rate. */
export type Shutter = { readonly kind: 'angle'; readonly degrees: number } | { readonly kind: 'time'; readonly seconds: number };

/** An iris value as written. `unknown`: the scale (T or f) was not named. */
export interface Stop {
  readonly kind: 'T' | 'f' | 'unknown';
  readonly number: number;
}

/** Filters as written, and the sum of the neutral densities among them (optical density; ND.6 is 0.6) when it can be read. */
export interface Filters {
  readonly text: string;
  readonly ndDensity?: number;
}

/** Recorded picture size in pixels. */
export interface Raster {
  readonly width: number;
  readonly height: number;
}

/**
 * Every fact gemel reads of a clip, and the type of its value. Names are the canonical headings in camel case; the names
 * after `date` have no heading of their own and come from files, sidecars and camera exports.
 * Units: lengths of lenses mm, distances m (Infinity is allowed for focus), angles degrees, white balance kelvin.
 * Timecodes stay as labels here: reading them needs the clip's own format.
 */
export interface FieldValues {
  readonly file: string;
  readonly camera: string;
  readonly roll: string;
  readonly clip: string;
  readonly scene: string;
  readonly setup: string;
  readonly take: string;
  readonly slate: string;
  readonly pass: string;
  readonly forSlate: string;
  readonly circled: boolean;
  readonly tcIn: string;
  readonly tcOut: string;
  readonly fps: FrameRate;
  readonly sensorFps: FrameRate;
  readonly shutter: Shutter;
  readonly lens: string;
  readonly lensSerial: string;
  readonly focalLength: number;
  readonly focusDistance: number;
  readonly stop: Stop;
  readonly filters: Filters;
  readonly ei: number;
  readonly whiteBalance: number;
  readonly tint: number;
  readonly raster: Raster;
  readonly squeeze: number;
  readonly cameraHeight: number;
  readonly tilt: number;
  readonly rollAngle: number;
  readonly subjectDistance: number;
  readonly backgroundDistance: number;
  readonly method: string;
  readonly notes: string;
  readonly date: string;
  readonly dropFrame: boolean;
  readonly timecodeRate: FrameRate;
  readonly frames: number;
  readonly codec: string;
  readonly cameraModel: string;
  readonly cameraSerial: string;
  readonly reel: string;
}

export type Field = keyof FieldValues;

/** One value of one field, with the text it was read from and where. A clip may hold several of one field: nothing is thrown away. */
export type Statement = {
  [F in Field]: { readonly field: F; readonly value: FieldValues[F]; readonly raw: string; readonly source: Source };
}[Field];

/** The per-frame values that lens data can carry. Units as in `FieldValues`; the stop as its number. */
export type TrackField = 'focalLength' | 'focusDistance' | 'stop' | 'tilt' | 'rollAngle';

/**
 * Values that change along a take, one entry a frame from the clip's first frame; NaN marks a frame without a value.
 * `stopKind` says what the numbers of `stop` are.
 */
export interface FrameTrack {
  readonly source: Source;
  readonly frames: number;
  readonly values: Partial<Record<TrackField, readonly number[]>>;
  readonly stopKind: Stop['kind'];
}
