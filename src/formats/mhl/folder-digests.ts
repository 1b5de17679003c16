import type { Digest, HashFormat } from './hash-format.ts';
import { digestBytes } from './hash-format.ts';
import { byCodeUnit } from './safe-path.ts';

/** What is in a folder: digests of files by name, folders by name, and folders whose digests are known already (nested histories). */
export interface HashedFolder {
  readonly files: ReadonlyMap<string, string>;
  readonly folders: ReadonlyMap<string, HashedFolder | FolderDigest>;
}

/** Content and structure of a folder in one format. */
export interface FolderDigest {
  readonly content: string;
  readonly structure: string;
}

/**
 * Content and structure digests of a folder and all below it, by path ("" for the folder itself), as ASC MHL 2.0, appendix G, has
 * them: digests of the entries are sorted as text and hashed as bytes; structure mixes in each entry's own name.
 */
export function digestFolder(folder: HashedFolder, format: HashFormat, digest: Digest): ReadonlyMap<string, FolderDigest> {
  const found = new Map<string, FolderDigest>();
  const visit = (current: HashedFolder, path: string): FolderDigest => {
    const contents: string[] = [];
    const structures: string[] = [];
    for (const [name, value] of current.files) {
      contents.push(value);
      structures.push(named(name, value, format, digest));
    }
    for (const [name, below] of current.folders) {
      const { content, structure } = 'content' in below ? below : visit(below, path === '' ? name : `${path}/${name}`);
      contents.push(content);
      structures.push(named(name, structure, format, digest));
    }
    const answer = { content: digestList(contents, format, digest), structure: digestList(structures, format, digest) };
    found.set(path, answer);
    return answer;
  };
  visit(folder, '');
  return found;
}

function named(name: string, value: string, format: HashFormat, digest: Digest): string {
  return digest(format, joined([utf8(name), digestBytes(format, value)]));
}

function digestList(values: readonly string[], format: HashFormat, digest: Digest): string {
  return digest(format, joined(values.toSorted(byCodeUnit).map((value) => digestBytes(format, value))));
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const bytes = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}

/** Text as UTF-8. Written out because judgement has no encoder of its own. */
export function utf8(text: string): Uint8Array {
  const bytes = new Uint8Array(text.length * 3);
  let at = 0;
  for (let index = 0; index < text.length; index++) {
    const code = text.codePointAt(index) ?? 0;
    if (code < 0x80) {
      bytes[at++] = code;
      continue;
    }
    const tail = code < 0x800 ? 1 : code < 0x10000 ? 2 : 3;
    bytes[at++] = (LEADS[tail - 1] ?? 0) | (code >> (6 * tail));
    for (let left = tail - 1; left >= 0; left--) bytes[at++] = 0x80 | ((code >> (6 * left)) & 63);
    if (tail === 3) index++;
  }
  return bytes.slice(0, at);
}

/** What the first byte of two, three and four begins with. */
const LEADS = [0xc0, 0xe0, 0xf0] as const;
