import { isAlias, isMap, isNode, isScalar, isSeq } from 'yaml';
import type { Document } from 'yaml';
import { readBoundedYaml } from '../formats/yaml/bounded-yaml.ts';

/** YAML read with its positions. `problems` are faults of the YAML itself; `value` is then undefined. */
export interface YamlText {
  readonly value: unknown;
  readonly problems: readonly { readonly at: string; readonly message: string }[];
  /** "12:5" (line and column, from 1) of the value at a path; of its key when `key` is set; of what holds it when it is not there. */
  at(path: readonly PropertyKey[], part?: 'key' | 'value'): string;
}

/** Takes YAML apart. Never throws: faults are in `problems`. */
export function readYaml(text: string): YamlText {
  const { document, lines, faults } = readBoundedYaml(text);
  const place = (offset: number): string => {
    const { line, col } = lines.linePos(offset);
    return `${Math.max(line, 1)}:${Math.max(col, 1)}`;
  };
  const problems = faults.map(({ offset, message }) => ({ at: place(offset), message }));
  let value: unknown;
  if (problems.length === 0) {
    try {
      value = document.toJS();
    } catch (error) {
      // Only aliases that multiply beyond reason ("billion laughs") or nest too deep fail here.
      problems.push({ at: '1:1', message: error instanceof Error ? error.message : String(error) });
    }
  }
  return { value, problems, at: (path, part) => place(offsetOf(document, path, part ?? 'value')) };
}

function offsetOf(document: Document, path: readonly PropertyKey[], part: 'key' | 'value'): number {
  let node: unknown = document.contents;
  let offset = startOf(node) ?? 0;
  for (const [depth, segment] of path.entries()) {
    const inner = child(isAlias(node) ? node.resolve(document) : node, segment);
    if (inner === undefined) return offset;
    const wanted = part === 'key' && depth === path.length - 1 ? inner.key : inner.value;
    offset = startOf(wanted) ?? startOf(inner.value) ?? startOf(inner.key) ?? offset;
    node = inner.value;
  }
  return offset;
}

function child(node: unknown, segment: PropertyKey): { readonly key: unknown; readonly value: unknown } | undefined {
  if (isMap(node)) return node.items.find((pair) => String(isScalar(pair.key) ? pair.key.value : pair.key) === String(segment));
  if (isSeq(node) && Number(segment) < node.items.length) return { key: undefined, value: node.items[Number(segment)] };
  return undefined;
}

function startOf(node: unknown): number | undefined {
  return isNode(node) && node.range ? node.range[0] : undefined;
}
