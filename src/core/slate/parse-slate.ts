import type { CompiledGrammar } from './compiled-grammar.ts';
import { bareWord, compileGrammar } from './compiled-grammar.ts';
import type { SlateGrammar } from './grammar.ts';
import type { Slate } from './slate.ts';

/** Why a text is no slate: a sentence fragment without a full stop. */
export interface UnreadableSlate {
  readonly reason: string;
}

/** A slate at the beginning of a longer text, and what follows it (from a word that is no part of it). */
export interface LeadingSlate {
  readonly slate: Slate;
  readonly rest: string;
}

/**
 * The parts of a slate as people write it: `27B-3`, `27b/3`, `A27C tk 4`, `27B-SW-3 PU`, `slate 214 take 2`, `VFX27B-3`.
 * Case, kind of dash, spaces and leading zeros do not matter.
 */
export function parseSlate(text: string, grammar: SlateGrammar): Slate | UnreadableSlate {
  const found = parseLeadingSlate(text, grammar);
  if ('reason' in found || found.rest === '') return 'reason' in found ? found : found.slate;
  return { reason: `"${found.rest}" is no take, suffix or other part of a slate` };
}

/** Whether reading a slate gave one. */
export function isSlate(found: Slate | UnreadableSlate): found is Slate {
  return !('reason' in found);
}

/** The slate at the beginning of a text that goes on: in a note or a file name. */
export function parseLeadingSlate(text: string, grammar: SlateGrammar): LeadingSlate | UnreadableSlate {
  const written = text.trim();
  if (written === '') return { reason: 'nothing is written' };
  if (written.length > LONGEST) return { reason: `${written.length} characters are too many for a slate` };
  const compiled = compileGrammar(grammar);
  const parts: Parts = { prefix: '', suffix: '', pickUp: false, series: false };
  const board = readBoard(readFront(plain(written), compiled, parts), compiled);
  if ('reason' in board) return board;
  const rest = readTail(board.rest, compiled, parts);
  if (typeof rest !== 'string') return rest;
  return { slate: { ...parts, scene: board.scene, setUp: board.setUp, text: written }, rest };
}

/** The take of a take column: `3`, `003`, `tk 3`, `3 PU`. Undefined when it holds no take. */
export function parseTake(text: string, grammar: SlateGrammar): Pick<Slate, 'pickUp' | 'series'> & { readonly take: number } | undefined {
  const parts: Parts = { prefix: '', suffix: '', pickUp: false, series: false };
  const rest = readTail(plain(text.trim()), compileGrammar(grammar), parts);
  return rest === '' && parts.take !== undefined ? { take: parts.take, pickUp: parts.pickUp, series: parts.series } : undefined;
}

/** Why a readable slate should be looked at: it uses a letter that set-ups do not use. Undefined when nothing is odd. */
export function slateSuspicion(slate: Slate, grammar: SlateGrammar): string | undefined {
  const letter = slate.setUp.split('').find((each) => grammar.skippedLetters.toUpperCase().includes(each));
  if (letter === undefined) return undefined;
  const looksLike = letter === 'I' ? ': it reads as 1' : letter === 'O' ? ': it reads as 0' : '';
  return `${letter} is not used as a set-up letter here${looksLike}`;
}

/** Far above any slate; keeps a pasted paragraph out of the expressions below. */
const LONGEST = 120;
const DASHES = /[\u00AD\u058A\u2010-\u2015\u2043\u2212\uFE58\uFE63\uFF0D]/gu;
const SEPARATORS = /^[-\s_./\\,:;#()[\]]+/u;
const LEADING_WORD = /^(?:SLATE|SCENE|BOARD|SHOT|SET-?UP|SC|SL)[-\s_.:#]*(?=[A-Z]{0,2}\d)/u;
const NUMBER = /^([A-Z]?)0*(\d{1,5})(?!\d)/u;
/** A decimal scene ("12.5B") needs its letter at once; "27.3" alone could as well be take 3. */
const DECIMAL = /^\.(\d{1,2})(?=[A-Z]{1,2}(?![A-Z]))/u;
const SET_UP_WORD = /^[-\s_.,]*SET-?[\s_]?UP[-\s_.:#]*([A-Z]{1,2}(?![A-Z])|\d{1,3}(?!\d))/u;
const LETTERS_APART = /^[-\s_/]+([A-Z]{1,2})(?![A-Z])/u;

interface Parts {
  prefix: string;
  suffix: string;
  pickUp: boolean;
  series: boolean;
  take?: number;
}

interface Board {
  readonly scene: string;
  readonly setUp: string;
  readonly rest: string;
}

function plain(text: string): string {
  return text.normalize('NFKC').replace(DASHES, '-').toUpperCase();
}

/** What may stand before the board's number: prefix, "slate", a pass suffix put in front, "PU". */
function readFront(text: string, compiled: CompiledGrammar, parts: Parts): string {
  let rest = text;
  for (;;) {
    const before = rest;
    rest = rest.replace(SEPARATORS, '');
    if (parts.prefix === '') rest = readPrefix(rest, compiled, parts);
    rest = rest.replace(LEADING_WORD, '');
    const word = wordAt(rest, compiled);
    // "A27C" begins with no word: a word in front must be followed by the board, and "T27" is scene T27, not a take.
    if (word !== undefined && word.meaning.kind !== 'take' && /^[-\s_.]*[A-Z]?\d/u.test(rest.slice(word.length))) {
      note(word.meaning, parts);
      rest = rest.slice(word.length);
    }
    if (rest === before) return rest;
  }
}

function readPrefix(text: string, { prefixes }: CompiledGrammar, parts: Parts): string {
  for (const prefix of prefixes) {
    if (!text.startsWith(prefix)) continue;
    const after = text.slice(prefix.length).replace(SEPARATORS, '');
    const apart = after.length < text.length - prefix.length;
    // A prefix such as "2U" could be scene 2, set-up U: apart from what follows, it needs a whole board behind it.
    const needed = apart && /^\d/u.test(prefix) ? /^[A-Z]?\d+(?:\.\d+)?[A-Z]/u : /^(?:[A-Z]?\d|(?:SLATE|SCENE)\b)/u;
    if (!needed.test(after)) continue;
    parts.prefix = prefix;
    return after;
  }
  return text;
}

/** Scene and set-up. */
function readBoard(text: string, compiled: CompiledGrammar): Board | UnreadableSlate {
  const number = NUMBER.exec(text);
  if (number === null) return { reason: text === '' ? 'no scene or slate number' : `"${text}" does not begin with a scene or slate number` };
  let scene = `${number[1] ?? ''}${number[2] ?? ''}`;
  let rest = text.slice(number[0].length);
  const decimal = DECIMAL.exec(rest);
  const unclear = { reason: `"${text}" could be a decimal scene number or a take` };
  if (decimal === null && /^\.\d/u.test(rest)) return unclear;
  if (decimal !== null) {
    scene += decimal[0];
    rest = rest.slice(decimal[0].length);
  }
  const named = SET_UP_WORD.exec(rest);
  if (named !== null && !compiled.meaningOf.has(named[1] ?? '')) return { scene, setUp: (named[1] ?? '').replace(/^0+(?=\d)/u, ''), rest: rest.slice(named[0].length) };
  const letters = readLetters(rest, compiled);
  if (typeof letters !== 'string') return letters;
  const setUp = letters.replace(/[-\s_/]/gu, '');
  if (decimal !== null && setUp === '') return unclear;
  rest = rest.slice(letters.length);
  const running = compiled.style === 'running' || (compiled.style === 'either' && setUp === '');
  return running ? { scene: '', setUp: `${scene}${setUp}`, rest } : { scene, setUp, rest };
}

/** The set-up letters as written, with a separator before them if there is one; "" when the slate has none. */
function readLetters(text: string, compiled: CompiledGrammar): string | UnreadableSlate {
  const run = /^[A-Z]*/u.exec(text)?.[0] ?? '';
  if (run === '') {
    const apart = LETTERS_APART.exec(text);
    return apart === null || compiled.meaningOf.has(apart[1] ?? '') ? '' : apart[0];
  }
  const digitsFollow = /^\d/u.test(text.slice(run.length));
  // "27PU" has no set-up letter, "27BT3" is set-up B take 3: a known word at the end of the run is that word.
  for (let length = 0; length <= Math.min(2, run.length - 1); length += 1) {
    const meaning = compiled.meaningOf.get(run.slice(length));
    if (meaning === undefined) continue;
    const oneLetter = run.length - length === 1;
    const head = run.slice(0, length);
    if (!compiled.meaningOf.has(head) && (!oneLetter || (meaning.kind === 'take' && digitsFollow))) return head;
  }
  return run.length <= 2 ? run : { reason: `"${run}" are too many letters for a set-up` };
}

/** Take, suffix and flags, in any order. Returns what is left from the first word that is none of them. */
function readTail(text: string, compiled: CompiledGrammar, parts: Parts): string | UnreadableSlate {
  let rest = text;
  for (;;) {
    rest = rest.replace(SEPARATORS, '');
    if (rest === '') return '';
    const word = wordAt(rest, compiled);
    const number = /^0*(\d{1,4})(?!\d)/u.exec(rest);
    if (word !== undefined) {
      if (word.meaning.kind === 'take' && !/^[-\s_.:#]*\d/u.test(rest.slice(word.length))) return rest;
      if (word.meaning.kind === 'suffix' && parts.suffix !== '' && parts.suffix !== word.meaning.suffix) {
        return { reason: `it carries two suffixes, ${parts.suffix} and ${word.meaning.suffix}` };
      }
      note(word.meaning, parts);
      rest = rest.slice(word.length);
      // "3 PU1" is the first pick-up of take 3, not another take.
      if (word.meaning.kind === 'pick-up' && parts.take !== undefined) rest = rest.replace(/^\d{1,2}(?!\d)/u, '');
    } else if (number !== null) {
      if (parts.take !== undefined) return { reason: `it names two takes, ${parts.take} and ${Number(number[1])}` };
      parts.take = Number(number[1]);
      rest = rest.slice(number[0].length);
    } else {
      return rest;
    }
  }
}

function note(meaning: NonNullable<ReturnType<typeof wordAt>>['meaning'], parts: Parts): void {
  if (meaning.kind === 'suffix') parts.suffix = meaning.suffix;
  if (meaning.kind === 'pick-up') parts.pickUp = true;
  if (meaning.kind === 'series') parts.series = true;
}

function wordAt(text: string, { word, meaningOf }: CompiledGrammar) {
  word.lastIndex = 0;
  const found = word.exec(text)?.[0];
  const meaning = found === undefined ? undefined : meaningOf.get(bareWord(found));
  return found === undefined || meaning === undefined ? undefined : { length: found.length, meaning };
}
