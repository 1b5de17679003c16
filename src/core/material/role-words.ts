import type { Role } from './clip.ts';
import type { RoleWord } from './group-rules.ts';

/** A role named in a text, and the words that name it, as written. */
export interface RoleMention {
  readonly role: Role;
  readonly words: string;
}

/** Finds roles in texts. */
export interface RoleReader {
  /** Every role a pass column, a suffix or a file name mentions. */
  readonly named: (text: string) => readonly RoleMention[];
  /** The roles a note claims for its clip: "no clean plate needed", "match to lead" and "clean plate to follow" claim none. */
  readonly claimed: (text: string) => readonly RoleMention[];
  /**
   * Those of them that a note states of the take and not of a person: "hero pass", "lead take", "Lead - Anna as MIA" do, "lead actor late" and
   * "lead: late" do not.
   */
  readonly stated: (text: string) => readonly RoleMention[];
}

const ROLES: readonly Role[] = ['lead', 'swapped', 'clean', 'reference', 'element'];

/** Makes a reader of the words of a pipeline; the names of the roles themselves always count. Whole words and phrases only. */
export function roleReader(roleWords: readonly RoleWord[]): RoleReader {
  const roleOf = new Map<string, Role>(ROLES.map((role) => [role, role]));
  for (const { word, role } of roleWords) if (bare(word) !== '') roleOf.set(bare(word), role);
  const phrases = [...new Set([...ROLES, ...roleWords.map(({ word }) => folded(word))])].filter((phrase) => bare(phrase) !== '');
  const longestFirst = phrases.sort((a, b) => b.length - a.length || (a < b ? -1 : 1)).map(asExpression);
  const expression = new RegExp(`(?<![\\p{L}\\p{N}])(?:${longestFirst.join('|')})s?(?![\\p{L}\\p{N}])`, 'gu');
  const find = (text: string, keep: (text: string, start: number, end: number) => boolean): readonly RoleMention[] =>
    [...text.matchAll(expression)].flatMap((found) => {
      const [words] = found;
      const role = roleOf.get(bare(words)) ?? roleOf.get(bare(words).replace(/s$/u, ''));
      return role === undefined || !keep(text, found.index, found.index + words.length) ? [] : [{ role, words }];
    });
  return {
    named: remembered((text) => find(folded(text).replaceAll('_', ' '), () => true)),
    stated: remembered((text) => find(folded(text), (whole, start, end) => isClaim(whole, start, end, expression) && isOfTake(whole, start, end))),
    claimed: remembered((text) => find(folded(text), (whole, start, end) => isClaim(whole, start, end, expression))),
  };
}

/** Folder names, pass columns and notes repeat all day: each text is searched once. */
function remembered(find: (text: string) => readonly RoleMention[]): (text: string) => readonly RoleMention[] {
  const known = new Map<string, readonly RoleMention[]>();
  return (text) => {
    const before = known.get(text);
    if (before !== undefined) return before;
    const mentions = find(text);
    known.set(text, mentions);
    return mentions;
  };
}

function folded(text: string): string {
  return text.normalize('NFKC').toLowerCase().replace(/[\u2018\u2019]/gu, "'").replace(/[\u2010-\u2015\u2212]/gu, '-').trim();
}

/** Letters and digits alone: "clean-plate" and "clean plate" are one. */
function bare(text: string): string {
  return folded(text).replace(/[^\p{L}\p{N}]/gu, '');
}

function asExpression(phrase: string): string {
  const words = phrase.match(/[\p{L}\p{N}]+/gu) ?? [];
  return words.join('[\\s_.-]*');
}

/** A clause ends at punctuation: what stands beyond it is not about this pass. */
const CLAUSE_END = /^[^.,;:()!?/\n+&]*/u;
const PUNCTUATION = '.,;:()!?/\n+&';
/** No clause is longer; keeps a note without punctuation from being read again in full for each word in it. */
const LONGEST_CLAUSE = 200;
/** Up to three words before, these make a pass one that is lacking, or another one. */
const NOT_THIS = new Set(
  ("no not without dont don't never cannot can't need needs needed skip skipped skipping missing still owe owes owed todo " +
    'match matches matching matched sync synced syncs same like against per see before after until instead than').split(' '),
);
/** Directly before, these make it another one: "for the lead", "with lead". */
const OF_ANOTHER = /(?:^|\s)(?:to|of|for|with|from)\s+(?:the\s+|a\s+|an\s+)?$/u;
const STILL_TO_COME =
  /^(?:\s+(?:is|was|are|will|be|pass|plate|still|yet)){0,3}\s+(?:needed|required|missing|later|follow|follows|to\s+follow|to\s+come|tbd|tba|tbc|tomorrow|owed|pending|skipped|not\s+(?:needed|required|shot|done|yet|possible|necessary))(?![\p{L}\p{N}])/u;

function isClaim(text: string, start: number, end: number, mentions: RegExp): boolean {
  const before = clauseBefore(text, start);
  if (OF_ANOTHER.test(before)) return false;
  // Other passes named in between do not count as words: "no swapped pass or clean plate".
  const words = before.replace(mentions, ' ').match(/[\p{L}\p{N}']+/gu) ?? [];
  if (words.slice(-3).some((word) => NOT_THIS.has(word))) return false;
  const after = CLAUSE_END.exec(text.slice(end, end + LONGEST_CLAUSE))?.[0] ?? '';
  return !STILL_TO_COME.test(after);
}

/** What stands between the last punctuation and a place. Walked backwards: an expression would try every beginning. */
function clauseBefore(text: string, end: number): string {
  let start = end;
  while (start > 0 && end - start < LONGEST_CLAUSE && !PUNCTUATION.includes(text.charAt(start - 1))) start -= 1;
  return text.slice(start, end);
}

/** What a pass is called beside its role: "lead pass", "lead take". */
const TAKE_WORD = /(?:^|[^\p{L}])(?:pass|take|plate)(?:es|s)?$/u;
const TAKE_WORD_NEXT = /^[\s_-]*(?:pass|take|plate)(?:es|s)?(?![\p{L}\p{N}])/u;
/** Parts of a note: hyphens with a space, slashes, stars and brackets part them as punctuation does. */
const PART_BEFORE = /(?:^|[.,;:()[\]!?/\n+&*|"']|\s-|-\s)\s*$/u;
const PART_AFTER = /^\s*(?:$|[.,;:()[\]!?/\n+&*|"']|-\s|--|as\s|=)/u;
/** A note with one of these speaks of the person who leads the cast. Common practice, no source. */
const OF_A_PERSON =
  /(?<![\p{L}\p{N}])(?:late|actor|actress|actors|man|lady|performer|singer|role|hair|make-?up|wardrobe|costume|wig|sick|ill|hurt|absent|arriv\w*|wrapped|mics?|boom|eye-?\s?line|dialogue|fluff\w*|stumbl\w*|miss\w*|forg\w*|laugh\w*|waiting|trailer)(?![\p{L}\p{N}])/u;

/** Whether a word for a role stands for the take: in a phrase with "pass", or as a part of the note by itself where nothing speaks of a person. */
function isOfTake(text: string, start: number, end: number): boolean {
  if (TAKE_WORD.test(text.slice(start, end)) || TAKE_WORD_NEXT.test(text.slice(end, end + 12))) return true;
  if (text.length > LONGEST_NOTE || OF_A_PERSON.test(text)) return false;
  return PART_BEFORE.test(text.slice(0, start)) && PART_AFTER.test(text.slice(end));
}

/** A longer note tells a story, in which a role stands for whoever plays it. */
const LONGEST_NOTE = 120;
