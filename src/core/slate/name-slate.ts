import type { SlateGrammar } from './grammar.ts';
import { parseLeadingSlate } from './parse-slate.ts';
import type { Slate } from './slate.ts';

/** A slate read from a file or folder name, and the name it was read from. */
export interface NamedSlate {
  readonly slate: Slate;
  readonly name: string;
}

/**
 * The slate a clip's path names: its own name first, then its folders from the nearest up. `27B-3_lead/frames.####.exr` and
 * `27B/27B_3.mov` do; camera names, dates and sizes (`A003C012`, `20261125`, `4K`) do not. The weakest source of a slate.
 */
export function slateFromName(file: string, grammar: SlateGrammar): NamedSlate | undefined {
  const names = file.split('/').reverse();
  for (const [index, whole] of names.entries()) {
    const name = index === 0 ? whole.replace(/(?:[._-]?#+)?\.[A-Za-z0-9]+$/u, '') : whole;
    const slate = readName(name, grammar);
    if (slate !== undefined) return { slate, name };
  }
  return undefined;
}

/** A bare number is a slate only after the word, else every dated folder would be one. */
const BEGINS_LIKE_A_SLATE = /^(?:(?:slate|scene|sc|sl|board)[-\s_.]*)?\d/iu;
const SAYS_SLATE = /^(?:slate|scene|sc|sl|board)(?![a-z])/iu;
/** 4K, 25P, 60I: sizes and rates. */
const SIZE_OR_RATE = /^\d+[KPI]$/iu;

function readName(name: string, grammar: SlateGrammar): Slate | undefined {
  const prefixed = grammar.prefixes.some((prefix) => name.toUpperCase().startsWith(prefix.toUpperCase()));
  if (!prefixed && !BEGINS_LIKE_A_SLATE.test(name)) return undefined;
  if (SIZE_OR_RATE.test(name)) return undefined;
  const found = parseLeadingSlate(name, grammar);
  if ('reason' in found) return undefined;
  // What follows must begin a new word: "25NOV" and "27B3x9" are no slates.
  if (found.rest !== '' && !/[-\s_.]/u.test(name.charAt(name.length - found.rest.length - 1))) return undefined;
  // "01_A" is a card of camera A as likely as a set-up: letters apart from the number need a take or a suffix after them.
  const whole = /\d[A-Z]/iu.test(name) || found.slate.take !== undefined || found.slate.suffix !== '';
  const lettered = /[A-Z]/u.test(found.slate.setUp) && found.slate.scene !== '' && whole;
  const numbered = found.slate.take !== undefined && SAYS_SLATE.test(name);
  return lettered || numbered ? found.slate : undefined;
}
