import type { XmlElement } from '../sidecars/xml-element.ts';
import type { Digests, HashFormat } from './hash-format.ts';
import { digestFault, HASH_FORMATS } from './hash-format.ts';
import type { FileRecord, FolderDigests, FolderRecord, HashAction, RecordedDigest } from './manifest.ts';
import { MANIFEST_NAMESPACE } from './manifest.ts';
import type { ProblemLog } from './problem-log.ts';
import { shown } from './problem-log.ts';
import { pathFault } from './safe-path.ts';
import { attributeOf, dateTime, knownChildren, wholeText } from './xml-order.ts';

const namespace = MANIFEST_NAMESPACE;
const FILE_ORDER = ['path', ...HASH_FORMATS, 'previousPath', 'metadata'];
const FOLDER_ORDER = ['path', 'content', 'structure', 'previousPath', 'metadata'];

/** The records of a `hashes` element. What cannot be relied on is left out and told to the log. */
export function parseRecords(hashes: XmlElement, log: ProblemLog): readonly (FileRecord | FolderRecord)[] {
  const records: (FileRecord | FolderRecord)[] = [];
  const paths = new Set<string>();
  hashes.children.forEach((element, index) => {
    const place = `entry ${index + 1}`;
    const read = element.namespace !== namespace ? undefined : element.name === 'hash' ? parseFile : element.name === 'directoryhash' ? parseFolder : undefined;
    if (read === undefined) {
      log.invalid('warn', place, `element ${element.name}`, 'hash or directoryhash');
      return;
    }
    const record = read(element, place, log);
    if (record === undefined) return;
    if (paths.has(record.path)) log.invalid('stop', `${place}, ${shown(record.path)}`, 'a second entry for this path', 'each path once');
    else records.push(record);
    paths.add(record.path);
  });
  return records;
}

function parseFile(element: XmlElement, at: string, log: ProblemLog): FileRecord | undefined {
  const children = knownChildren(element, { order: FILE_ORDER, namespace }, at, log);
  const path = safePath(children.get('path')?.[0], at, log);
  if (path === undefined) return undefined;
  const place = `${at}, ${shown(path.text)}`;
  const given = HASH_FORMATS.flatMap((format) => (children.get(format) ?? []).map((digest) => ({ format, digest })));
  if (given.length === 0) log.invalid('stop', place, 'no digest in a format of the standard', `at least one of ${HASH_FORMATS.join(', ')}`);
  const modified = dateTime(attributeOf(path.element, 'lastmodificationdate'), 'lastmodificationdate', place, log);
  return {
    kind: 'file',
    path: path.text,
    ...sizeOf(path.element, place, log),
    ...(modified === undefined ? {} : { modified }),
    digests: given.flatMap(({ format, digest }) => parseFileDigest(format, digest, place, log)),
    ...previousOf(children.get('previousPath')?.[0], place, log),
  };
}

function parseFolder(element: XmlElement, at: string, log: ProblemLog): FolderRecord | undefined {
  const children = knownChildren(element, { order: FOLDER_ORDER, namespace }, at, log);
  const path = safePath(children.get('path')?.[0], at, log);
  if (path === undefined) return undefined;
  const place = `${at}, ${shown(path.text)}`;
  const modified = dateTime(attributeOf(path.element, 'lastmodificationdate'), 'lastmodificationdate', place, log);
  return {
    kind: 'folder',
    path: path.text,
    ...(modified === undefined ? {} : { modified }),
    ...parseFolderDigests(children, place, log),
    ...previousOf(children.get('previousPath')?.[0], place, log),
  };
}

/** `content` and `structure` of a directory or of the root; both must be there, in the same formats. */
export function parseFolderDigests(children: ReadonlyMap<string, readonly XmlElement[]>, place: string, log: ProblemLog): FolderDigests {
  const of = (name: string): Digests => {
    const element = children.get(name)?.[0];
    if (element === undefined) {
      log.invalid('stop', place, `no ${name}`, 'content and structure');
      return {};
    }
    const digests = knownChildren(element, { order: HASH_FORMATS, namespace }, place, log);
    return Object.fromEntries(HASH_FORMATS.flatMap((format) => (digests.get(format) ?? []).flatMap((digest) => goodDigest(format, digest, place, log).map((value) => [format, value]))));
  };
  const content = of('content');
  const structure = of('structure');
  const [inContent, inStructure] = [content, structure].map((digests) => Object.keys(digests).join(', '));
  if (inContent !== inStructure) log.invalid('warn', place, `content in ${inContent || 'no format'}, structure in ${inStructure || 'no format'}`, 'both in the same formats');
  return { content, structure };
}

function parseFileDigest(format: HashFormat, element: XmlElement, place: string, log: ProblemLog): readonly RecordedDigest[] {
  const action = attributeOf(element, 'action');
  if (action === undefined) log.invalid('stop', place, `${format} without an action`, 'action original, verified or failed');
  else if (!isAction(action)) log.invalid('stop', place, `${format} with action ${shown(action)}`, 'action original, verified or failed');
  const date = dateTime(attributeOf(element, 'hashdate'), 'hashdate', place, log);
  return goodDigest(format, element, place, log).map((value) => ({
    format,
    value,
    ...(action !== undefined && isAction(action) ? { action } : {}),
    ...(date === undefined ? {} : { date }),
  }));
}

function goodDigest(format: HashFormat, element: XmlElement, place: string, log: ProblemLog): readonly string[] {
  const fault = digestFault(format, element.text);
  if (fault === undefined) return [element.text];
  log.invalid('stop', place, `${format} ${shown(element.text)}`, fault);
  return [];
}

function isAction(text: string): text is HashAction {
  return text === 'original' || text === 'verified' || text === 'failed';
}

function sizeOf(element: XmlElement, place: string, log: ProblemLog): { readonly sizeBytes?: number } {
  const size = attributeOf(element, 'size');
  if (size === undefined) return {};
  const sizeBytes = Number(size);
  if (/^\+?\d+$/.test(size) && Number.isSafeInteger(sizeBytes)) return { sizeBytes };
  log.invalid('stop', place, `size ${shown(size)}`, 'a number of bytes, 0 or more');
  return {};
}

function previousOf(element: XmlElement | undefined, place: string, log: ProblemLog): { readonly previousPath?: string } {
  const path = element === undefined ? undefined : safePath(element, `${place}, previousPath`, log);
  return path === undefined ? {} : { previousPath: path.text };
}

/** A path that may be followed; others are told to the log. */
export function safePath(element: XmlElement | undefined, place: string, log: ProblemLog): { readonly text: string; readonly element: XmlElement } | undefined {
  if (element === undefined) {
    log.invalid('stop', place, 'no path', 'a path');
    return undefined;
  }
  const text = wholeText(element);
  const fault = pathFault(text);
  if (fault === undefined) return { text, element };
  log.unsafe(place, `path ${shown(text)}: ${fault}`, 'a path below the folder, "/" between folders');
  return undefined;
}

