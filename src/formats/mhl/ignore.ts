import { globFits } from './glob.ts';

interface Rule {
  readonly negated: boolean;
  readonly foldersOnly: boolean;
  readonly fits: (path: string) => boolean;
}

/** Whether a path below the scope is left out. */
export type Ignores = (path: string, isFolder: boolean) => boolean;

/**
 * Patterns as .gitignore has them (git's gitignore(5)), each relative to the scope: the last that fits decides, "!" takes back,
 * and nothing below a folder that is left out can be taken back.
 */
export function ignoresOf(patterns: readonly string[]): Ignores {
  const rules = patterns.flatMap(ruleOf);
  const known = new Map<string, boolean>();
  const folder = (path: string): boolean => {
    const before = known.get(path);
    if (before !== undefined) return before;
    const answer = ignores(path, true);
    known.set(path, answer);
    return answer;
  };
  const ignores: Ignores = (path, isFolder) => {
    const parent = path.slice(0, Math.max(0, path.lastIndexOf('/')));
    if (parent !== '' && folder(parent)) return true;
    const decisive = rules.findLast(({ foldersOnly, fits }) => (isFolder || !foldersOnly) && fits(path));
    return decisive !== undefined && !decisive.negated;
  };
  return ignores;
}

/** Longer than any path: nothing would fit it, and taking it apart takes its time. */
const LONGEST_PATTERN = 4096;

function ruleOf(line: string): readonly Rule[] {
  if (line.length > LONGEST_PATTERN) return [];
  let text = withoutSpacesAtEnd(line);
  if (text === '' || text.startsWith('#')) return [];
  const negated = text.startsWith('!');
  if (negated) text = text.slice(1);
  const foldersOnly = text.endsWith('/');
  if (foldersOnly) text = text.slice(0, -1);
  const anchored = text.includes('/');
  if (text.startsWith('/')) text = text.slice(1);
  if (text === '') return [];
  return [{ negated, foldersOnly, fits: globFits(text, !anchored) }];
}

/** A space behind a backslash stays. Counted from the end: an expression would begin anew at each space of a long run. */
function withoutSpacesAtEnd(line: string): string {
  let end = line.length;
  while (line.charAt(end - 1) === ' ' && line.charAt(end - 2) !== '\\') end -= 1;
  return line.slice(0, end);
}
