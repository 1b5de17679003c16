import type { SlateGrammar } from '../slate/grammar.ts';
import { isSlate, parseLeadingSlate, parseSlate } from '../slate/parse-slate.ts';
import type { Slate } from '../slate/slate.ts';
import { setUpKey } from '../slate/slate.ts';
import type { ReadingProblem } from './finding.ts';
import type { Statement } from './statement.ts';
import type { SaidByField } from './trust.ts';
import { allOf, firstOf } from './trust.ts';

/** The slate a clip is for, when it was slated otherwise, and where that was read. */
export interface ForSlate {
  readonly slate?: Slate;
  /** The statement it came from; made here when it was read from a note. */
  readonly statement?: Statement;
  readonly problems: readonly ReadingProblem[];
}

const NOTHING: ForSlate = { problems: [] };
/** How far around "for" a note is read: no slate is longer, and a long note must not be read again in full for each "for" in it. */
const NEARBY = 100;

/**
 * Reads "for 27B" from the for_slate column, else from notes. A note counts when it names a set-up that `isKnown` says was slated
 * that day, or says so plainly ("plate for 27B"): "hold for 10 seconds" names none.
 */
export function forSlateOf(said: SaidByField, own: Slate | undefined, grammar: SlateGrammar, isKnown: (key: string) => boolean): ForSlate {
  if (firstOf(said, 'forSlate') === undefined && firstOf(said, 'notes') === undefined) return NOTHING;
  const problems: ReadingProblem[] = [];
  for (const statement of allOf(said, 'forSlate')) {
    const slate = readCell(statement, grammar, problems);
    if (slate !== undefined) return isOwn(slate, own) ? { problems } : { slate, statement, problems };
  }
  for (const { value, source } of allOf(said, 'notes')) {
    const slate = readNote(value, grammar, isKnown);
    if (slate === undefined || isOwn(slate, own)) continue;
    return { slate, statement: { field: 'forSlate', value: slate.text, raw: value, source: { ...source, kind: 'note' } }, problems };
  }
  return { problems };
}

function isOwn(slate: Slate, own: Slate | undefined): boolean {
  return own !== undefined && setUpKey(slate) === setUpKey(own);
}

function readCell({ raw, source }: Statement & { field: 'forSlate' }, grammar: SlateGrammar, problems: ReadingProblem[]): Slate | undefined {
  const several = raw.split(/[,;&+]|\band\b/iu).map((part) => part.trim()).filter((part) => part !== '');
  const slate = parseSlate((several[0] ?? raw).replace(/^for\s+/iu, ''), grammar);
  const expected = several.length > 1 ? 'one slate: a clip is matched to one set-up, and only the first is taken' : 'a slate such as 27B';
  if (several.length > 1 || !isSlate(slate)) {
    problems.push({
      code: 'unreadable-value',
      severity: 'warn',
      file: source.file,
      place: source.place,
      found: raw,
      expected: isSlate(slate) ? expected : `${expected}: ${slate.reason}`,
      remedy: 'name one slate in the log, or confirm the match in the corrections file',
    });
  }
  return isSlate(slate) ? slate : undefined;
}

function readNote(note: string, grammar: SlateGrammar, isKnown: (key: string) => boolean): Slate | undefined {
  for (const found of note.matchAll(forExpression(grammar))) {
    const before = note.slice(Math.max(0, found.index - NEARBY), found.index);
    if (/(?<!\p{L})(?:not|no)\s+(?:\p{L}+\s+)?$/iu.test(before)) continue;
    const after = note.slice(found.index + found[0].length).slice(0, NEARBY);
    const leading = parseLeadingSlate(after, grammar);
    if ('reason' in leading) continue;
    const { slate } = leading;
    const key = setUpKey(slate);
    const phrase = /\s/u.test(found[0].trim());
    const lettered = /\d[A-Z]/u.test(key);
    // A bare number must stand alone, or it counts seconds; a lettered one must be a slate of the day, or it is "for 5s".
    const plain = lettered ? phrase || isKnown(key) : isKnown(key) && (phrase || /^\s*(?:slate\s*)?#?\d+(?:[-/]\d+)?\s*(?:$|[,.;:)])/iu.test(after));
    if (plain) return { ...slate, text: key };
  }
  return undefined;
}

const expressions = new WeakMap<SlateGrammar, RegExp>();

function forExpression(grammar: SlateGrammar): RegExp {
  const known = expressions.get(grammar);
  if (known !== undefined) return known;
  const phrases = grammar.forWords
    .map((phrase) => (phrase.match(/[\p{L}\p{N}]+/gu) ?? []).join('[\\s_-]+'))
    .filter((phrase) => phrase !== '')
    .sort((a, b) => b.length - a.length || (a < b ? -1 : 1));
  // Without any word for it no note can say so: an expression that finds nothing.
  const made = phrases.length === 0 ? /(?!)/gu : new RegExp(`(?<![\\p{L}\\p{N}])(?:${phrases.join('|')})[\\s:]+`, 'giu');
  expressions.set(grammar, made);
  return made;
}
