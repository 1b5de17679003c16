/**
 * Text from metadata, safe to print: control characters and escape sequences show as their symbols (␛), a line break as ␊, and
 * marks that would turn the writing direction or hide show as their number. Nothing in a file name can move the cursor.
 */
export function visibleText(text: string): string {
  return text.replace(UNSEEN, (found) => {
    const code = found.codePointAt(0) ?? 0;
    if (code < 0x20) return String.fromCodePoint(0x2400 + code);
    if (code === 0x7f) return '␡';
    return `<U+${code.toString(16).toUpperCase().padStart(4, '0')}>`;
  });
}

/** Controls (C0, DEL, C1), direction marks and overrides, zero-width space and no-break space, line and paragraph separators, lone surrogates, tags. */
const UNSEEN = /[\p{Cc}\p{Cs}\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\u{e0000}-\u{e007f}]/gu;
