/**
 * Text from metadata, safe to print: control characters and escape sequences show as their symbols (␛), a line break as ␊, and
 * marks that would turn the writing direction or hide show as their number. Nothing in a file name can move the cursor.
 * `nameControl` names control characters otherwise, where there may be no symbols.
 */
export function visibleText(text: string, nameControl = symbolOf): string {
  return text.replace(UNSEEN, (found) => {
    const code = found.codePointAt(0) ?? 0;
    return code <= 0x7f ? nameControl(code) : hexName(code);
  });
}

/** `<U+202E>`: a character by its number. */
export function hexName(code: number): string {
  return `<U+${code.toString(16).toUpperCase().padStart(4, '0')}>`;
}

function symbolOf(control: number): string {
  return control === 0x7f ? '␡' : String.fromCodePoint(0x2400 + control);
}

/** Controls (C0, DEL, C1), direction marks and overrides, zero-width space and no-break space, line and paragraph separators, lone surrogates, tags. */
const UNSEEN = /[\p{Cc}\p{Cs}\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\u{e0000}-\u{e007f}]/gu;
