import type { ClipNote } from '../../core/material/day.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import { headingOf, normaliseHeading } from '../../core/material/heading.ts';
import type { Field, Statement } from '../../core/material/statement.ts';
import type { CellReading } from '../values/field.ts';
import { readCell } from '../values/field.ts';
import { isUnknown } from '../values/unknown.ts';
import type { MappedField, SidecarMapping } from './mapping.ts';
import { readMapped } from './read-mapped.ts';
import { folderOf, stemOfSidecar } from './stem.ts';
import type { XmlElement } from './xml-element.ts';
import { everyElement, findInXml } from './xml-path.ts';

/**
 * What an XML sidecar says of its clip. Mappings for its root element, or for any, say which element or attribute is which
 * field; for fields they do not name, an element or attribute named like a canonical heading is that field.
 */
export function readSidecar(
  root: XmlElement, file: string, mappings: readonly SidecarMapping[], headings: Readonly<Record<string, Field>>,
): { readonly note: ClipNote; readonly problems: readonly ReadingProblem[] } {
  const mapped = mappings.filter(({ form = 'xml', root: name = root.name }) => form === 'xml' && name === root.name).flatMap(({ fields }) => fields);
  const mappedFields = new Set(mapped.map(({ field }) => field));
  const named = namedCells(root, file, (key) => canonicalField(key, headings, mappedFields));
  const cells = [...mapped.flatMap((field) => mappedCell(root, file, field)), ...named];
  const statements = cells.flatMap(({ reading }) => reading.statements);
  const note = { kind: 'sidecar' as const, file, place: '', folder: folderOf(file), stem: stemOfSidecar(file), statements: withoutRepeats(statements), tracks: [] };
  return { note, problems: [...cells.flatMap((cell) => problemsOf(file, cell)), ...timecodeJumps(root, file)] };
}

interface SidecarCell {
  readonly place: string;
  readonly raw: string;
  readonly reading: CellReading;
}

/** The first of the places a path names that says something. */
function mappedCell(root: XmlElement, file: string, mapped: MappedField): readonly SidecarCell[] {
  const raw = findInXml(root, mapped.path).find((text) => !isUnknown(text));
  if (raw === undefined) return [];
  const place = `element ${mapped.path}`;
  const companion = mapped.with === undefined ? '' : (findInXml(root, mapped.with)[0] ?? '');
  return [{ place, raw, reading: readMapped(mapped, raw, companion, { kind: 'sidecar', file, place }) }];
}

/** Only canonical headings: aliases such as "rate" and "for" mean other things in other people's files. */
function canonicalField(name: string, headings: Readonly<Record<string, Field>>, mapped: ReadonlySet<Field>): Field | undefined {
  const key = normaliseHeading(name);
  const field = Object.hasOwn(headings, key) ? headings[key] : undefined;
  return field !== undefined && !mapped.has(field) && normaliseHeading(headingOf(field)) === key ? field : undefined;
}

/** The default mapping. Elements that only hold others say nothing themselves. */
function namedCells(root: XmlElement, file: string, fieldOf: (name: string) => Field | undefined): readonly SidecarCell[] {
  return everyElement(root).flatMap((element) => {
    const named: readonly (readonly [string, string, string])[] = [
      ...(element.children.length === 0 ? [[element.name, element.text, `element ${element.name}`] as const] : []),
      ...Object.entries(element.attributes).map(([name, text]) => [name, text, `element ${element.name}@${name}`] as const),
    ];
    return named.flatMap(([name, raw, place]) => {
      const field = fieldOf(name);
      return field === undefined || isUnknown(raw) ? [] : [{ place, raw, reading: readCell(field, raw, undefined, { kind: 'sidecar' as const, file, place }) }];
    });
  });
}

/** Two places that say the same in the same words are one statement. */
function withoutRepeats(statements: readonly Statement[]): readonly Statement[] {
  const seen = new Set<string>();
  return statements.filter(({ field, raw }) => {
    const key = `${field}\n${raw}`;
    return seen.has(key) ? false : seen.add(key) !== undefined;
  });
}

function problemsOf(file: string, { place, raw, reading: { expected, assumed } }: SidecarCell): readonly ReadingProblem[] {
  const found = `"${raw.trim().slice(0, 80)}"`;
  if (expected !== undefined) {
    const remedy = 'The rest of the sidecar counts. A mapping file can name how this value is written.';
    return [{ code: 'unreadable-value', severity: 'warn', file, place, found, expected, remedy }];
  }
  if (assumed === undefined) return [];
  return [{ code: 'unreadable-value', severity: 'note', file, place, found, expected: assumed, remedy: 'A mapping file can name the unit.' }];
}

/** In the timecode table of professional disc metadata each jump of the timecode has a row of its own beside the first and the last. */
function timecodeJumps(root: XmlElement, file: string): readonly ReadingProblem[] {
  const rows = everyElement(root).filter(({ name }) => name === 'LtcChange').length;
  if (rows <= 2) return [];
  return [{
    code: 'frame-gap', severity: 'warn', file, place: 'element LtcChange', found: `${rows} changes of timecode`,
    expected: 'one run of timecode from first to last frame', remedy: 'Do not line passes up by timecode within this clip.',
  }];
}
