import type { SlateGrammar } from './grammar.ts';

/** A grammar made ready for reading: words in capitals, longest first, as one expression. */
export interface CompiledGrammar {
  readonly style: SlateGrammar['style'];
  readonly prefixes: readonly string[];
  /** What a word at the place where the expression looks means; sticky, so the caller sets `lastIndex`. */
  readonly word: RegExp;
  readonly meaningOf: ReadonlyMap<string, SlateWord>;
}

export type SlateWord =
  | { readonly kind: 'take' }
  | { readonly kind: 'pick-up' }
  | { readonly kind: 'series' }
  | { readonly kind: 'suffix'; readonly suffix: string };

const compiled = new WeakMap<SlateGrammar, CompiledGrammar>();

/** The grammar made ready; the work is done once for each grammar. */
export function compileGrammar(grammar: SlateGrammar): CompiledGrammar {
  const known = compiled.get(grammar);
  if (known !== undefined) return known;
  const made = compile(grammar);
  compiled.set(grammar, made);
  return made;
}

/** A word as it is looked up: capitals, without what may stand between its parts ("pick-up" and "pick up" are PICKUP). */
export function bareWord(text: string): string {
  return text.toUpperCase().replace(/[-\s_.]/gu, '');
}

function compile(grammar: SlateGrammar): CompiledGrammar {
  const meaningOf = new Map<string, SlateWord>();
  // "PU" and "SER" are always read, because gemel itself writes them.
  for (const word of [...grammar.seriesWords, 'SER']) meaningOf.set(bareWord(word), { kind: 'series' });
  for (const word of [...grammar.pickUpWords, 'PU']) meaningOf.set(bareWord(word), { kind: 'pick-up' });
  for (const word of grammar.takeWords) meaningOf.set(bareWord(word), { kind: 'take' });
  for (const word of grammar.suffixes) meaningOf.set(bareWord(word), { kind: 'suffix', suffix: bareWord(word) });
  meaningOf.delete('');
  const longestFirst = [...meaningOf.keys()].sort((a, b) => b.length - a.length || (a < b ? -1 : 1));
  // Between the letters of a word a separator may stand, so that "pick-up", "pick up" and "pickup" are one.
  const alternatives = longestFirst.map((word) => word.split('').map(escaped).join('[-\\s_]?'));
  return {
    style: grammar.style,
    prefixes: grammar.prefixes.map(bareWord).filter((prefix) => prefix !== '').sort((a, b) => b.length - a.length || (a < b ? -1 : 1)),
    word: new RegExp(`(?:${alternatives.join('|')})(?![A-Z])`, 'y'),
    meaningOf,
  };
}

function escaped(letter: string): string {
  return letter.replace(/[\\^$.*+?()[\]{}|/-]/u, '\\$&');
}
