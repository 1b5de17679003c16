import type { Document } from 'yaml';
import { isMap, isScalar, LineCounter, parseDocument, visit } from 'yaml';

/** Far above any pipeline, template, mapping or corrections file. */
const LONGEST_TEXT = 1_000_000;
/** Entries of one map and of one list: each is looked up among the others. */
const MOST_KEYS = 5_000;
const MOST_ENTRIES = 10_000;
const MOST_FAULTS = 50;
const LONGEST_MESSAGE = 200;

/** A fault of the YAML itself, at an offset of the text. */
export interface YamlFault {
  readonly offset: number;
  readonly message: string;
}

/** A YAML text taken apart; with `faults` the document is empty. */
export interface BoundedYaml {
  readonly document: Document;
  readonly lines: LineCounter;
  readonly faults: readonly YamlFault[];
}

/**
 * Takes YAML apart within bounds, whoever wrote it. Only plain values: no tag makes bytes or sets of a text. Never throws.
 */
export function readBoundedYaml(text: string): BoundedYaml {
  if (text.length > LONGEST_TEXT) return refused(`${text.length} characters, more than the ${LONGEST_TEXT} of any such file`);
  const lines = new LineCounter();
  try {
    // The parser's own test for doubled keys compares each with each.
    const document = parseDocument(text, { lineCounter: lines, prettyErrors: false, uniqueKeys: false, resolveKnownTags: false, logLevel: 'error' });
    const faults = [...document.errors, ...document.warnings].map(({ pos, message }) => ({ offset: pos[0], message }));
    if (faults.some(({ message }) => /call stack/i.test(message))) return refused('lists or maps nested too deep');
    if (faults.length === 0) faults.push(...sizeFaults(document));
    const told = faults.slice(0, MOST_FAULTS).map(({ offset, message }) => ({ offset, message: message.slice(0, LONGEST_MESSAGE) }));
    return { document: told.length === 0 ? document : parseDocument(''), lines, faults: told };
  } catch (failure) {
    // What is nested thousands deep runs out of stack.
    if (failure instanceof RangeError) return refused('lists or maps nested too deep');
    throw failure;
  }
}

function refused(message: string): BoundedYaml {
  return { document: parseDocument(''), lines: new LineCounter(), faults: [{ offset: 0, message }] };
}

/** Keys that stand twice in one map or are lists or maps themselves, and maps and lists longer than anybody writes. */
function sizeFaults(document: Document): readonly YamlFault[] {
  const faults: YamlFault[] = [];
  visit(document, {
    Seq: (_key, list) => {
      if (list.items.length <= MOST_ENTRIES) return undefined;
      faults.push({ offset: list.range?.[0] ?? 0, message: `${list.items.length} entries in one list, more than ${MOST_ENTRIES}` });
      return visit.BREAK;
    },
    Map: (_key, map) => {
      if (map.items.length > MOST_KEYS) {
        faults.push({ offset: map.range?.[0] ?? 0, message: `${map.items.length} keys in one map, more than ${MOST_KEYS}` });
        return visit.BREAK;
      }
      const seen = new Set<string>();
      for (const { key } of map.items) {
        const offset = isScalar(key) || isMap(key) ? (key.range?.[0] ?? 0) : (map.range?.[0] ?? 0);
        if (!isScalar(key)) faults.push({ offset, message: 'A key must be a word' });
        else if (seen.has(String(key.value))) faults.push({ offset, message: 'Map keys must be unique' });
        else seen.add(String(key.value));
      }
      return undefined;
    },
  });
  return faults;
}
