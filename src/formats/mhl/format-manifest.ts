import type { Digests } from './hash-format.ts';
import { HASH_FORMATS } from './hash-format.ts';
import type { ChainEntry, FileRecord, FolderDigests, FolderRecord, Manifest } from './manifest.ts';
import { CHAIN_NAMESPACE, MANIFEST_NAMESPACE } from './manifest.ts';
import { attribute, group, textElement } from './xml-text.ts';

const DECLARATION = '<?xml version="1.0" encoding="UTF-8"?>';

/** A manifest as its file's text, in the order the schema wants. Equal manifests give equal text. */
export function formatManifest(manifest: Manifest): string {
  const { created, hostname, tool, authors, location, comment, process, root, ignore, records, references } = manifest;
  return document('hashlist', ` version="2.0"${attribute('xmlns', MANIFEST_NAMESPACE)}`, [
    ...group('creatorinfo', [
      textElement('creationdate', created),
      textElement('hostname', hostname),
      textElement('tool', tool.name, attribute('version', tool.version)),
      ...authors.map(({ name, email, phone, role }) => textElement('author', name, attribute('email', email) + attribute('phone', phone) + attribute('role', role))),
      ...(location === undefined ? [] : [textElement('location', location)]),
      ...(comment === undefined ? [] : [textElement('comment', comment)]),
    ]),
    ...group('processinfo', [
      textElement('process', process),
      ...(root === undefined ? [] : group('roothash', folderDigests(root))),
      ...group('ignore', ignore.map((pattern) => textElement('pattern', pattern))),
    ]),
    ...group('hashes', records.flatMap((record) => (record.kind === 'file' ? fileLines(record) : folderLines(record)))),
    ...group('references', references.flatMap(({ path, c4 }) => group('hashlistreference', [textElement('path', path), textElement('c4', c4)]))),
  ]);
}

/** The chain file's text. */
export function formatChain(entries: readonly ChainEntry[]): string {
  const lists = entries.toSorted((a, b) => a.sequence - b.sequence).flatMap(({ sequence, path, c4 }) => group('hashlist', [textElement('path', path), textElement('c4', c4)], attribute('sequencenr', sequence)));
  return document('ascmhldirectory', attribute('xmlns', CHAIN_NAMESPACE), lists);
}

/** The file name of a generation: number, folder, time of its start in UTC. `created` is "2026-11-24T18:15:00Z". */
export function manifestName(sequence: number, folder: string, created: string): string {
  const stamp = created.replace('T', '_').replaceAll(':', '');
  // What some system cannot have in a file name; the folder is named for people only, and never read back.
  const name = folder.replace(/[\p{Cc}<>:"/\\|?*]/gu, '_');
  return `${String(sequence).padStart(4, '0')}_${name}_${stamp}.mhl`;
}

function document(root: string, attributes: string, lines: readonly string[]): string {
  return `${[DECLARATION, ...group(root, lines, attributes)].join('\n')}\n`;
}

function fileLines({ path, sizeBytes, modified, digests, previousPath }: FileRecord): readonly string[] {
  const inOrder = digests.toSorted((a, b) => HASH_FORMATS.indexOf(a.format) - HASH_FORMATS.indexOf(b.format));
  return group('hash', [
    textElement('path', path, attribute('size', sizeBytes) + attribute('lastmodificationdate', modified)),
    ...inOrder.map(({ format, value, action, date }) => textElement(format, value, attribute('action', action) + attribute('hashdate', date))),
    ...(previousPath === undefined ? [] : [textElement('previousPath', previousPath)]),
  ]);
}

function folderLines({ path, modified, previousPath, ...digests }: FolderRecord): readonly string[] {
  return group('directoryhash', [
    textElement('path', path, attribute('lastmodificationdate', modified)),
    ...folderDigests(digests),
    ...(previousPath === undefined ? [] : [textElement('previousPath', previousPath)]),
  ]);
}

function folderDigests({ content, structure }: FolderDigests): readonly string[] {
  return [...group('content', digestLines(content)), ...group('structure', digestLines(structure))];
}

function digestLines(digests: Digests): readonly string[] {
  return HASH_FORMATS.flatMap((format) => (digests[format] === undefined ? [] : [textElement(format, digests[format])]));
}
