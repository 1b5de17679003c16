import { normaliseHeading } from '../../../core/material/heading.ts';
import type { Column } from '../columns.ts';
import type { TableRow } from '../split-rows.ts';

/** "key: value" text as a table: one row a frame block, each with the clip block's values where it has none of its own. */
export interface BlockTable {
  readonly columns: readonly Column[];
  readonly rows: readonly TableRow[];
}

const CLIP_BLOCK = /^clip metadata:?$/i;
const FRAME_BLOCK = /^frame \d+ metadata:?$/i;
/** Values longer than this are colour tables. */
const LONGEST_VALUE = 1000;

/** Text in blocks headed "Clip Metadata" and "Frame 12 Metadata"; undefined when there is no such block. A line splits at its first ": ". */
export function readBlocks(source: string): BlockTable | undefined {
  const clip = new Map<string, string>();
  const frames: { readonly line: number; readonly values: Map<string, string> }[] = [];
  let block: Map<string, string> | undefined;
  for (const [at, text] of source.split(/\r\n?|\n/).entries()) {
    const line = text.trim();
    if (CLIP_BLOCK.test(line)) block = clip;
    else if (FRAME_BLOCK.test(line)) {
      block = new Map();
      frames.push({ line: at + 1, values: block });
    } else if (block !== undefined) addLine(block, line);
  }
  if (block === undefined) return undefined;
  const keys = [...new Set([...clip.keys(), ...frames.flatMap(({ values }) => [...values.keys()])])];
  const columns = keys.map((heading, index) => ({ heading, key: normaliseHeading(heading), indices: [index] }));
  const blocks = frames.length === 0 ? [{ line: 1, values: new Map<string, string>() }] : frames;
  return { columns, rows: blocks.map(({ line, values }) => ({ line, damaged: false, cells: keys.map((key) => values.get(key) ?? clip.get(key) ?? '') })) };
}

function addLine(block: Map<string, string>, line: string): void {
  const at = line.indexOf(': ');
  const [key, value] = at === -1 ? [line.replace(/:$/, ''), ''] : [line.slice(0, at), line.slice(at + 2).trim()];
  if (key !== '' && value.length <= LONGEST_VALUE && !block.has(key)) block.set(key, value);
}
