import { fingerprint } from './fingerprint.ts';

const LONGEST = 80;
/** What systems allow is 255 bytes of UTF-8, the mark, the extension and what a name carries until its file is whole among them. */
const MOST_BYTES = 200;
/** Names that some systems keep for devices, whatever follows the dot. */
const RESERVED = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i;

/**
 * File names, without extension, for names people made up: letters, digits and `-_.` of any script stay, all else becomes `_`,
 * so that no name leaves its folder, hides, or means something to a shell. Names that would be alike (without regard to case
 * and composition) get a mark that depends on the name alone, so that each keeps its file whatever else there is.
 */
export function safeFileNames(names: readonly string[]): readonly string[] {
  const safe = names.map(safeFileName);
  const count = new Map<string, number>();
  for (const name of safe) count.set(alike(name), (count.get(alike(name)) ?? 0) + 1);
  return safe.map((name, index) => {
    const original = names[index] ?? '';
    const changed = name !== original;
    return changed || (count.get(alike(name)) ?? 0) > 1 ? `${name}-${fingerprint(original).slice(0, 9)}` : name;
  });
}

function safeFileName(name: string): string {
  const plain = name
    .normalize('NFC')
    .replace(/[^\p{L}\p{M}\p{N}._-]+/gu, '_')
    .replace(/^[.\-_]+|[.\-_]+$/g, '');
  const short = shortened(plain);
  if (short === '') return 'set';
  return RESERVED.test(short) ? `set-${short}` : short;
}

function shortened(name: string): string {
  let [short, bytes] = ['', 0];
  for (const letter of Array.from(name).slice(0, LONGEST)) {
    const code = letter.codePointAt(0) ?? 0;
    bytes += code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x1_0000 ? 3 : 4;
    if (bytes > MOST_BYTES) break;
    short += letter;
  }
  return short;
}

function alike(name: string): string {
  return name.normalize('NFKC').toLowerCase();
}
