import type { ReadingProblem } from '../../core/material/finding.ts';
import type { XmlElement } from '../sidecars/xml-element.ts';
import { digestFault } from './hash-format.ts';
import type { Author, HashProcess, Manifest, ManifestReference } from './manifest.ts';
import { MANIFEST_NAMESPACE } from './manifest.ts';
import { parseFolderDigests, parseRecords, safePath } from './parse-records.ts';
import type { ProblemLog } from './problem-log.ts';
import { problemLog, shown } from './problem-log.ts';
import { attributeOf, dateTime, knownChildren, wholeText } from './xml-order.ts';

const namespace = MANIFEST_NAMESPACE;

/** A manifest as far as it can be relied on, undefined when it is none of version 2.0, and everything that is wrong with it. */
export interface ParsedManifest {
  readonly manifest: Manifest | undefined;
  readonly problems: readonly ReadingProblem[];
}

/** Judges a manifest by the text of the ASC MHL standard, which asks for more than its schema does. `file` names it in problems. */
export function parseManifest(root: XmlElement, file: string): ParsedManifest {
  const log = problemLog(file);
  if (root.name !== 'hashlist' || root.namespace !== namespace) {
    log.invalid('stop', 'root element', `${root.name} in ${shown(root.namespace ?? '')}`, `hashlist in "${namespace}"`);
    return { manifest: undefined, problems: log.problems };
  }
  const version = attributeOf(root, 'version');
  if (version !== '2.0') log.invalid('stop', 'hashlist', version === undefined ? 'no version' : `version ${shown(version)}`, 'version "2.0"');
  const parts = knownChildren(root, { order: ['creatorinfo', 'processinfo', 'hashes', 'metadata', 'references'], namespace }, 'hashlist', log);
  const hashes = parts.get('hashes')?.[0];
  const references = parts.get('references')?.[0];
  if (hashes === undefined && references === undefined) log.invalid('stop', 'hashlist', 'neither hashes nor references', 'at least one of them');
  if (hashes?.children.length === 0) log.invalid('warn', 'hashes', 'no entry', 'at least one, or no hashes element');
  const manifest: Manifest = {
    ...parseCreator(parts.get('creatorinfo')?.[0], log),
    ...parseProcess(parts.get('processinfo')?.[0], log),
    records: hashes === undefined ? [] : parseRecords(hashes, log),
    references: references === undefined ? [] : parseReferences(references, log),
  };
  return { manifest, problems: log.problems };
}

type Creator = Pick<Manifest, 'created' | 'hostname' | 'tool' | 'authors' | 'location' | 'comment'>;

function parseCreator(element: XmlElement | undefined, log: ProblemLog): Creator {
  const place = 'creatorinfo';
  if (element === undefined) {
    log.invalid('stop', 'hashlist', 'no creatorinfo', 'who wrote it, when and with what');
    return { created: '', hostname: '', tool: { name: '' }, authors: [] };
  }
  const order = ['creationdate', 'hostname', 'tool', 'author', 'location', 'comment'];
  const parts = knownChildren(element, { order, many: ['author'], namespace }, place, log);
  for (const name of ['creationdate', 'hostname', 'tool']) if (!parts.has(name)) log.invalid('stop', place, `no ${name}`, order.slice(0, 3).join(', '));
  const text = (name: string): string | undefined => parts.get(name)?.[0]?.text;
  const tool = parts.get('tool')?.[0];
  const version = tool === undefined ? undefined : attributeOf(tool, 'version');
  const location = text('location');
  const comment = text('comment');
  return {
    created: dateTime(text('creationdate'), 'creationdate', place, log) ?? '',
    hostname: text('hostname') ?? '',
    tool: { name: tool?.text ?? '', ...(version === undefined ? {} : { version }) },
    authors: (parts.get('author') ?? []).map((author) => parseAuthor(author, log)),
    ...(location === undefined ? {} : { location }),
    ...(comment === undefined ? {} : { comment }),
  };
}

function parseAuthor(element: XmlElement, log: ProblemLog): Author {
  const email = attributeOf(element, 'email');
  const phone = attributeOf(element, 'phone');
  const role = attributeOf(element, 'role');
  // The schema's own pattern.
  if (email !== undefined && !/^[^@]+@[^.]+\..+$/s.test(email)) log.invalid('warn', 'author', `email ${shown(email)}`, 'name@domain');
  return { name: element.text, ...(email === undefined ? {} : { email }), ...(phone === undefined ? {} : { phone }), ...(role === undefined ? {} : { role }) };
}

function parseProcess(element: XmlElement | undefined, log: ProblemLog): Pick<Manifest, 'process' | 'root' | 'ignore'> {
  const place = 'processinfo';
  if (element === undefined) {
    log.invalid('stop', 'hashlist', 'no processinfo', 'what was done: in-place, transfer or flatten');
    return { process: 'in-place', ignore: [] };
  }
  const parts = knownChildren(element, { order: ['process', 'roothash', 'ignore'], namespace }, place, log);
  const word = parts.get('process')?.[0]?.text ?? '';
  if (!isProcess(word)) log.invalid('stop', place, `process ${shown(word)}`, 'in-place, transfer or flatten');
  const roothash = parts.get('roothash')?.[0];
  const ignore = parts.get('ignore')?.[0];
  const patterns = ignore === undefined ? [] : (knownChildren(ignore, { order: ['pattern'], many: ['pattern'], namespace }, 'ignore', log).get('pattern') ?? []);
  if (ignore !== undefined && patterns.length === 0) log.invalid('warn', 'ignore', 'no pattern', 'at least one, or no ignore element');
  return {
    process: isProcess(word) ? word : 'in-place',
    ...(roothash === undefined ? {} : { root: parseFolderDigests(knownChildren(roothash, { order: ['content', 'structure'], namespace }, 'roothash', log), 'roothash', log) }),
    ignore: patterns.map(wholeText),
  };
}

function isProcess(word: string): word is HashProcess {
  return word === 'in-place' || word === 'transfer' || word === 'flatten';
}

function parseReferences(element: XmlElement, log: ProblemLog): readonly ManifestReference[] {
  const found = knownChildren(element, { order: ['hashlistreference'], many: ['hashlistreference'], namespace }, 'references', log).get('hashlistreference') ?? [];
  if (found.length === 0) log.invalid('warn', 'references', 'no reference', 'at least one, or no references element');
  return found.flatMap((reference, index) => {
    const place = `reference ${index + 1}`;
    const parts = knownChildren(reference, { order: ['path', 'c4'], namespace }, place, log);
    const path = safePath(parts.get('path')?.[0], place, log);
    const c4 = parts.get('c4')?.[0]?.text ?? '';
    const fault = digestFault('c4', c4);
    if (fault !== undefined) log.invalid('stop', place, `c4 ${shown(c4)}`, fault);
    return path === undefined || fault !== undefined ? [] : [{ path: path.text, c4 }];
  });
}
