import type { Clip, ReadClip } from '../../src/core/material/clip.ts';
import type { ClipNote, ReadDay } from '../../src/core/material/day.ts';
import type { GroupRules, RoleWord } from '../../src/core/material/group-rules.ts';
import type { Method } from '../../src/core/material/method.ts';
import type { Field, FieldValues, Source, SourceKind, Statement } from '../../src/core/material/statement.ts';
import type { SlateGrammar } from '../../src/core/slate/grammar.ts';
import type { Slate } from '../../src/core/slate/slate.ts';
import { frameRate } from '../../src/core/timecode/rate.ts';

/** The facts of one source, by field. */
export type Facts = Partial<FieldValues>;

/** One statement; `raw` is the value as text unless given. */
export function statement<F extends Field>(field: F, value: FieldValues[F], source: Source, raw?: string): Statement {
  return { field, value, raw: raw ?? (typeof value === 'object' ? JSON.stringify(value) : String(value)), source } as Statement;
}

/** Statements of one source. The place of each is `place` and the field: "line 4, column take". */
export function statements(kind: SourceKind, file: string, place: string, facts: Facts): Statement[] {
  const column = kind === 'report' ? 'column ' : '';
  return Object.entries(facts).map(([field, value]) =>
    statement(field as Field, value, { kind, file, place: `${place}${place === '' ? '' : ', '}${column}${field}` }),
  );
}

/**
 * A whole movie at 24 fps, 240 frames, as the read step hands it on; `facts` are embedded in the file. A camera-style name
 * gives camera, roll and clip, as reading does: `day01/A003C012_261125_R7QK.mov` is camera A, roll A003, clip C012.
 */
export function readClip(file: string, facts: Facts = {}, over: Partial<ReadClip> = {}): ReadClip {
  const embedded: Facts = { fps: frameRate(24), frames: 240, ...facts };
  const name = /(?:^|\/)([A-Z])(\d{3})(C\d{3})[^/]*$/.exec(file);
  const named: Facts = name === null ? {} : { camera: name[1] ?? '', roll: `${name[1]}${name[2]}`, clip: name[3] ?? '' };
  return {
    file,
    kind: 'movie',
    statements: [...statements('embedded', file, '', embedded), ...statements('name', file, 'file name', named)],
    tracks: [],
    ...(embedded.frames === undefined ? {} : { frames: embedded.frames }),
    complete: true,
    completeness: 'every frame of the index lies inside the file',
    sizeBytes: 1000,
    decodable: true,
    problems: [],
    usable: true,
    ...over,
  };
}

/** One row of a camera report or log; `line` counts from 1, the heading row being line 1. */
export function reportRow(line: number, facts: Facts, file = 'report.csv'): ClipNote {
  return {
    kind: 'report',
    file,
    place: `line ${line}`,
    folder: folderOf(file),
    statements: statements('report', file, `line ${line}`, facts),
    tracks: [],
  };
}

/** A sidecar that names its clip by its own base name. */
export function sidecar(file: string, facts: Facts): ClipNote {
  const stem = file.slice(file.lastIndexOf('/') + 1).replace(/\.[^.]*$/, '');
  return { kind: 'sidecar', file, place: '', folder: folderOf(file), stem, statements: statements('sidecar', file, '', facts), tracks: [] };
}

/** A day with nothing in it but what is given. */
export function readDay(over: Partial<ReadDay> = {}): ReadDay {
  return { clips: [], notes: [], shots: [], marks: [], problems: [], ...over };
}

/** A slate taken apart: `slate('27B', 3)`. */
export function slate(setUp: string, take?: number, over: Partial<Slate> = {}): Slate {
  const parts = /^(\d*)([A-Z]*)$/.exec(setUp);
  return {
    scene: parts?.[1] ?? '',
    setUp: parts?.[2] ?? setUp,
    ...(take === undefined ? {} : { take }),
    pickUp: false,
    series: false,
    prefix: '',
    suffix: '',
    text: take === undefined ? setUp : `${setUp}-${take}`,
    ...over,
  };
}

/** A clip after grouping, camera A, 240 frames at 24 fps from 10:00:00:00, role stated by the log. */
export function makeClip(file: string, over: Partial<Clip> = {}): Clip {
  const role = over.role ?? 'lead';
  return {
    id: file,
    file,
    kind: 'movie',
    usable: true,
    complete: true,
    completeness: 'every frame of the index lies inside the file',
    decodable: true,
    sizeBytes: 1000,
    camera: 'A',
    role,
    roleEvidence: role === 'unknown' ? [] : [{ role, kind: 'log', weight: 0.95, words: `report.csv, line 2, column pass says "${role}"` }],
    roleConfidence: role === 'unknown' ? 0 : 0.95,
    notes: [],
    start: { frame: 864_000, format: { base: 24, drop: false } },
    timecodeFormat: { base: 24, drop: false },
    frames: 240,
    rate: frameRate(24),
    lens: {},
    exposure: {},
    position: {},
    picture: {},
    tracks: [],
    statements: [],
    disagreements: [],
    problems: [],
    ...over,
  };
}

/** How slates are written on the invented show: common practice. */
export const SLATE_GRAMMAR: SlateGrammar = {
  style: 'either',
  skippedLetters: 'IO',
  prefixes: ['VFX', '2U'],
  suffixes: ['SW', 'CP', 'REF', 'EL'],
  takeWords: ['take', 'tk', 't'],
  pickUpWords: ['pu', 'pick-up', 'pickup'],
  seriesWords: ['ser', 'series'],
  forWords: ['for', 'plate for', 'plates for'],
};

/** Role words of the invented show. */
export const ROLE_WORDS: readonly RoleWord[] = [
  { word: 'lead', role: 'lead' },
  { word: 'lead pass', role: 'lead' },
  { word: 'hero pass', role: 'lead' },
  { word: 'swap', role: 'swapped' },
  { word: 'swapped', role: 'swapped' },
  { word: 'sw', role: 'swapped' },
  { word: 'side b', role: 'swapped' },
  { word: 'clean', role: 'clean' },
  { word: 'clean plate', role: 'clean' },
  { word: 'cp', role: 'clean' },
  { word: 'plate only', role: 'clean' },
  { word: 'nobody', role: 'clean' },
  { word: 'ref', role: 'reference' },
  { word: 'reference', role: 'reference' },
  { word: 'element', role: 'element' },
  { word: 'el', role: 'element' },
];

/** One method; lead, swapped and clean from a locked-off camera unless said otherwise. */
export function method(name: string, over: Partial<Method> = {}): Method {
  return {
    name,
    description: name,
    required: ['lead', 'swapped', 'clean'],
    wanted: [],
    movingCamera: false,
    repeatedMove: false,
    elementReplacesSwapped: false,
    skipChecks: [],
    syncAssumed: 'note',
    references: [],
    ...over,
  };
}

/** Grouping rules of the invented show, with no corrections. */
export function groupRules(over: Partial<GroupRules> = {}): GroupRules {
  return {
    slateGrammar: SLATE_GRAMMAR,
    roleWords: ROLE_WORDS,
    methods: {
      split: method('split'),
      moco: method('moco', { movingCamera: true, repeatedMove: true }),
      handheld: method('handheld', { movingCamera: true }),
      'screen-element': method('screen-element', { required: ['lead', 'element'], wanted: ['clean'], elementReplacesSwapped: true }),
      'head-replacement': method('head-replacement', { wanted: ['reference'] }),
      'digital-double': method('digital-double', { required: ['lead', 'clean', 'reference'] }),
    },
    defaultMethod: 'split',
    corrections: [],
    tolerances: { sourcesPercent: 1, lengthFrames: 1 },
    ...over,
  };
}

function folderOf(file: string): string {
  return file.includes('/') ? file.slice(0, file.lastIndexOf('/')) : '';
}
