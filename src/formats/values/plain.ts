const FRACTIONS: Readonly<Record<string, string>> = {
  '½': '1/2', '⅓': '1/3', '⅔': '2/3', '¼': '1/4', '¾': '3/4', '⅕': '1/5', '⅛': '1/8', '⅜': '3/8', '⅝': '5/8', '⅞': '7/8', '⅒': '1/10',
};

/** Printable ASCII, single spaces within, no two apostrophes in a row. */
const PLAIN = /^(?:(?!'')[!-~])+(?: (?:(?!'')[!-~])+)*$/;

/**
 * A cell's text with typographic look-alikes made plain: any white space is one space, any minus is "-", curly quotes and
 * primes are ' and ", × is x, ½ is " 1/2". Trimmed.
 */
export function plainText(text: string): string {
  // Most cells are plain as they stand, and there are many of them.
  if (PLAIN.test(text)) return text;
  return text
    .replace(/[\u2212\u2013\u2012\uFE63\uFF0D]/g, '-')
    .replace(/[\u2018\u2019\u201B\u2032\u00B4\u02B9]/g, "'")
    .replace(/[\u201C\u201D\u201F\u2033\u02BA]|''/g, '"')
    .replace(/[\u00BA\u02DA]/g, '°')
    .replace(/[\u00D7\u2715]/g, 'x')
    .replace(/\u2044/g, '/')
    .replace(/[½⅓⅔¼¾⅕⅛⅜⅝⅞⅒]/g, (sign) => ` ${FRACTIONS[sign] ?? ''}`)
    .replace(/[\s\u200B\uFEFF\0]+/g, ' ')
    .trim();
}

/** The same, in lower case: for words that may be written either way. */
export function plainWord(text: string): string {
  return plainText(text).toLowerCase();
}
