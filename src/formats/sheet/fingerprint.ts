/**
 * A short name for what stands on a page: equal contents, equal name. FNV-1a (draft-eastlake-fnv), two 32-bit passes over
 * UTF-16 code units, printed as `3F9A-0C21-77D0-E418`. It tells printings apart; it proves nothing against intent.
 */
export function fingerprint(text: string): string {
  const hex = [0x811c9dc5, 0x1000193].map((basis) => hash(text, basis).toString(16).padStart(8, '0').toUpperCase()).join('');
  return hex.replace(/(.{4})(?=.)/g, '$1-');
}

function hash(text: string, basis: number): number {
  let state = basis;
  for (let index = 0; index < text.length; index += 1) state = Math.imul(state ^ text.charCodeAt(index), 0x01000193) >>> 0;
  return state;
}
