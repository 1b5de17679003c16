const DIGITS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/** Bytes as base64 (RFC 4648, section 4), padded. */
export function base64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 3) {
    const [first = 0, second, third] = bytes.subarray(at, at + 3);
    const word = (first << 16) | ((second ?? 0) << 8) | (third ?? 0);
    text += digit(word >> 18) + digit(word >> 12) + (second === undefined ? '=' : digit(word >> 6)) + (third === undefined ? '=' : digit(word));
  }
  return text;
}

function digit(word: number): string {
  return DIGITS.charAt(word & 63);
}
