import type { ClipNote, ReadDay } from '../../core/material/day.ts';
import { UnreadableXmlError } from '../../core/material/errors.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import { readSidecar } from '../../formats/sidecars/read-sidecar.ts';
import { joinExportParts } from '../../formats/tables/frame-data/join-parts.ts';
import type { TableReading } from '../../formats/tables/read-table.ts';
import { readTable } from '../../formats/tables/read-table.ts';
import { mapBounded, withinTime } from './bounded.ts';
import type { ReadOptions, ReadPorts } from './read-options.ts';
import type { RememberedNotes } from './remember-notes.ts';
import { rememberNotes } from './remember-notes.ts';
import type { SortedFiles } from './sort-files.ts';
import { extensionOf, nameOf } from './sort-files.ts';
import { explain, fileProblem } from './unusable.ts';

type Noted = Omit<ReadDay, 'clips'>;
/** A file of words to read: where it lies and what it is called in reports. */
type TextFile = Pick<SortedFiles['tables'][number], 'path' | 'file'>;

const TABLE_BYTES = 64 * 1024 * 1024;
const SIDECAR_BYTES = 16 * 1024 * 1024;
const FILES_AT_ONCE = 8;
const LIMIT_MS = 60_000;
const NOTHING: Noted = { notes: [], shots: [], marks: [], problems: [] };

/** What reports, logs, shot lists, move notes, camera exports and XML sidecars say, in order of their files. */
export async function readNotes({ tables, sidecars }: SortedFiles, ports: ReadPorts, options: ReadOptions, signal: AbortSignal): Promise<Noted> {
  const named = namedShotList(tables, options.shotList);
  const texts: readonly TextFile[] = named === undefined || tables.some(({ path }) => path === named.path) ? tables : [...tables, named];
  const remembered = await rememberNotes([...tables, ...sidecars], ports.memory, isNoted);
  const read = await mapBounded(texts, FILES_AT_ONCE, async (table) => {
    const said = await readOne(table, TABLE_BYTES, { ports, remembered, signal }, (bytes) => tableOf(bytes, table.file, options));
    return named !== undefined && table.path !== named.path && said.shots.length > 0 ? setAside(said, table.file, named.file) : said;
  });
  const xml = await mapBounded(sidecars, FILES_AT_ONCE, async (sidecar) =>
    readOne(sidecar, SIDECAR_BYTES, { ports, remembered, signal }, (bytes) => sidecarOf(bytes, sidecar.file, ports, options)),
  );
  await remembered.keep();
  const tabled = joined(read);
  const exported = joinExportParts(tabled.notes);
  const beside = joined(xml);
  return {
    notes: [...exported.notes, ...beside.notes],
    shots: tabled.shots,
    marks: tabled.marks,
    problems: [...tabled.problems, ...exported.problems, ...beside.problems],
  };
}

/** A shot list that lies among the media is one of the tables; one that lies elsewhere goes by its name alone. */
function namedShotList(tables: readonly TextFile[], path: string | undefined): TextFile | undefined {
  if (path === undefined) return undefined;
  return tables.find((table) => table.path === path) ?? { path, file: nameOf(path.replaceAll('\\', '/')) };
}

function setAside(said: Noted, file: string, named: string): Noted {
  const words = { found: `a shot list of ${said.shots.length} rows`, expected: `${named}, the shot list that was asked for`, remedy: 'nothing, if that one is the right one' };
  return { ...said, shots: [], problems: [...said.problems, fileProblem(file, 'unused-row', 'note', words)] };
}

interface Reading {
  readonly ports: ReadPorts;
  readonly remembered: RememberedNotes<Noted>;
  readonly signal: AbortSignal;
}

/** Reads a small file and makes something of it, unless that is remembered; what goes wrong on the way is a problem of that file. */
async function readOne({ path, file }: TextFile, maxBytes: number, { ports: { store }, remembered, signal }: Reading, make: (bytes: Uint8Array) => Noted): Promise<Noted> {
  const known = remembered.recall(file);
  if (known !== undefined) return known;
  try {
    const said = make(await withinTime(LIMIT_MS, signal, async (limited) => store.readWhole(path, maxBytes, limited)));
    remembered.note(file, said);
    return said;
  } catch (failure) {
    signal.throwIfAborted();
    return { ...NOTHING, problems: [fileProblem(file, 'unreadable-file', 'warn', { expected: 'a file that can be read', ...explain(failure) })] };
  }
}

/** A text that is no table is a note: people keep all kinds of texts beside their clips. */
function tableOf(bytes: Uint8Array, file: string, { headings, mappings }: ReadOptions): TableReading {
  const table = readTable(bytes, file, headings, mappings);
  if (table.kind !== 'unknown' || extensionOf(file) !== 'txt') return table;
  return { ...table, problems: table.problems.map((problem) => ({ ...problem, severity: 'note' })) };
}

function sidecarOf(bytes: Uint8Array, file: string, { xml }: ReadPorts, { headings, mappings }: ReadOptions): Noted {
  try {
    const { note, problems } = readSidecar(xml.parse(bytes), file, mappings, headings);
    return saysNothing(note) ? { ...NOTHING, problems: [...problems, emptySidecar(file)] } : { ...NOTHING, notes: [note], problems };
  } catch (failure) {
    if (!(failure instanceof UnreadableXmlError)) throw failure;
    const place = failure.line === undefined ? '' : `line ${failure.line}`;
    const words = { found: failure.reason, expected: 'a well-formed XML sidecar', remedy: 'export or copy the sidecar again; the clip itself is read without it' };
    return { ...NOTHING, problems: [{ ...fileProblem(file, 'unreadable-file', 'warn', words), place }] };
  }
}

function saysNothing({ statements, tracks }: ClipNote): boolean {
  return statements.length === 0 && tracks.length === 0;
}

function emptySidecar(file: string): ReadingProblem {
  return fileProblem(file, 'unused-sidecar', 'note', {
    found: 'no element that a mapping or a canonical heading names',
    expected: 'a sidecar of a clip',
    remedy: 'nothing, if it is none; else a mapping file can say which element is which field',
  });
}

/** Whether a text of the catalogue is what was noted of a file. Only gemel writes there. */
function isNoted(value: unknown): value is Noted {
  return typeof value === 'object' && value !== null && 'notes' in value && 'shots' in value && 'marks' in value && 'problems' in value;
}

function joined(parts: readonly Noted[]): Noted {
  return {
    notes: parts.flatMap(({ notes }) => notes),
    shots: parts.flatMap(({ shots }) => shots),
    marks: parts.flatMap(({ marks }) => marks),
    problems: parts.flatMap(({ problems }) => problems),
  };
}
