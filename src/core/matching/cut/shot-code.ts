/** Where a shot code is looked for. */
export type ShotCodeSource = 'marker' | 'comment' | 'clip-name' | 'shot-list';

/** How shot codes are found, as the pipeline says. */
export interface ShotCodeRules {
  /** Looked through in this order. */
  readonly shotCodes: readonly ShotCodeSource[];
  /** "@" a letter, "#" a digit, anything else itself: `@@@_###_####`. */
  readonly shotCodePatterns: readonly string[];
}

/** Longest text that is looked through; notes are no novels. */
const LONGEST = 2000;

/**
 * Finds a shot code in a text by its pattern, in capitals; the first of several. Patterns have no repeats and no choices, so that
 * none can take long. A code is bounded by what is neither letter nor digit.
 */
export function codeFinder(patterns: readonly string[]): (text: string) => string | undefined {
  const expressions = patterns.map((pattern) => new RegExp(`(?<![\\p{L}\\p{N}])${pattern.split('').map(partOf).join('')}(?![\\p{L}\\p{N}])`, 'iu'));
  return (text) => {
    const searched = text.slice(0, LONGEST);
    for (const expression of expressions) {
      const code = expression.exec(searched)?.[0];
      if (code !== undefined) return code.toUpperCase();
    }
    return undefined;
  };
}

function partOf(letter: string): string {
  if (letter === '@') return '[A-Za-z]';
  if (letter === '#') return '[0-9]';
  return letter.replaceAll(/[\\^$.*+?()[\]{}|/]/gu, String.raw`\$&`);
}
