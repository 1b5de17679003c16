import type { Correction } from '../core/material/correction.ts';
import type { Role } from '../core/material/clip.ts';
import type { Method } from '../core/material/method.ts';
import type { Field } from '../core/material/statement.ts';
import type { ShotCodeSource } from '../core/matching/cut/shot-code.ts';
import type { Tolerances } from '../core/material/tolerance.ts';
import type { SensorMode } from '../core/optics/sensor-mode.ts';
import type { SlateGrammar } from '../core/slate/grammar.ts';
import type { Handles } from '../core/timecode/range.ts';
import type { FrameRate } from '../core/timecode/rate.ts';
import type { MappedField, SidecarMapping } from '../formats/sidecars/mapping.ts';

export type { MappedField, SidecarMapping };

/** What code receives: everything decided, nothing optional left but what may truly be absent. */
export interface Config {
  /** File it came from, "built-in default" otherwise. */
  readonly from: string;
  readonly show: string;
  /** Absolute folders. */
  readonly media: readonly string[];
  readonly out: string;
  readonly baseRate: FrameRate | undefined;
  readonly handles: Handles;
  readonly minCleanFrames: number;
  /** How bad it is that nothing of a pass's lens is on record. */
  readonly notOnRecord: 'warn' | 'note';
  readonly defaultMethod: string;
  readonly methods: Readonly<Record<string, Method>>;
  readonly tolerances: Tolerances;
  readonly slateGrammar: SlateGrammar;
  /** Lower-case word or phrase → role. */
  readonly roleWords: readonly { readonly word: string; readonly role: Role }[];
  /** Normalised heading → field. */
  readonly headings: Readonly<Record<string, Field>>;
  /** Mapping files the pipeline names; whoever reads files adds them to `mappings`. */
  readonly mappingFiles: readonly string[];
  readonly mappings: readonly SidecarMapping[];
  /** Sensor mode files the pipeline names; whoever reads files fills `sensorModes` from them and from gemel's own table. */
  readonly sensorModeFiles: readonly string[];
  readonly sensorModes: readonly SensorMode[];
  /** Under this margin a match is ambiguous (cost units). */
  readonly ambiguityMargin: number;
  /** A clip changed more recently than this is still growing unless its own header proves it whole; 0 switches the test off. */
  readonly settleSeconds: number;
  readonly vendor: string | undefined;
  readonly shotList: string | undefined;
  /** Cuts, as absolute paths; without any, the one that lies among the media. */
  readonly cuts: readonly string[];
  readonly shotCodes: readonly ShotCodeSource[];
  readonly shotCodePatterns: readonly string[];
  /** Number of the first frame of a shot, handles included. */
  readonly firstFrame: number;
  /** Where the corrections are kept; whoever reads files fills `corrections` from it. */
  readonly correctionsFile: string | undefined;
  readonly corrections: readonly Correction[];
  readonly sheetTemplate: string;
  /** Undefined: the paper of the template. */
  readonly paper: 'A4' | 'Letter' | undefined;
  /** Whether sheets and repeat cards are made. */
  readonly sheets: boolean;
  /** Whether pictures are measured; undefined: by `check` and `run`, and by `watch` where proxies are named. */
  readonly pictures: boolean | undefined;
  /** Folders of proxies or reference movies that stand in for clips, absolute. */
  readonly proxies: readonly string[];
  /** Whether folders with an ASC MHL history are held against it. */
  readonly verifyHashes: boolean;
}
