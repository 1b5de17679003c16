import type { ReadingProblem } from '../../core/material/finding.ts';
import type { XmlElement } from '../sidecars/xml-element.ts';
import { digestFault } from './hash-format.ts';
import type { ChainEntry } from './manifest.ts';
import { CHAIN_NAMESPACE } from './manifest.ts';
import { safePath } from './parse-records.ts';
import type { ProblemLog } from './problem-log.ts';
import { problemLog, shown } from './problem-log.ts';
import { attributeOf, knownChildren } from './xml-order.ts';

/** The generations a chain file lists, in their order, and everything that is wrong with it. `file` names it in problems. */
export function parseChain(root: XmlElement, file: string): { readonly entries: readonly ChainEntry[]; readonly problems: readonly ReadingProblem[] } {
  const log = problemLog(file);
  if (root.name !== 'ascmhldirectory' || root.namespace !== CHAIN_NAMESPACE) {
    log.invalid('stop', 'root element', `${root.name} in ${shown(root.namespace ?? '')}`, `ascmhldirectory in "${CHAIN_NAMESPACE}"`);
    return { entries: [], problems: log.problems };
  }
  const lists = knownChildren(root, { order: ['hashlist'], many: ['hashlist'], namespace: CHAIN_NAMESPACE }, 'ascmhldirectory', log).get('hashlist') ?? [];
  if (lists.length === 0) log.invalid('stop', 'ascmhldirectory', 'no hashlist', 'one for each generation');
  const entries = lists.flatMap((list, index) => parseEntry(list, index, log)).toSorted((a, b) => a.sequence - b.sequence);
  checkSequence(entries, log);
  const seen = new Set<string>();
  for (const { path } of entries) {
    if (seen.has(path)) log.invalid('stop', shown(path), 'listed twice', 'each manifest once');
    seen.add(path);
  }
  return { entries, problems: log.problems };
}

function parseEntry(list: XmlElement, index: number, log: ProblemLog): readonly ChainEntry[] {
  const place = `hashlist ${index + 1}`;
  const parts = knownChildren(list, { order: ['path', 'c4'], namespace: CHAIN_NAMESPACE }, place, log);
  const path = safePath(parts.get('path')?.[0], place, log)?.text;
  const number = attributeOf(list, 'sequencenr') ?? '';
  const c4 = parts.get('c4')?.[0]?.text ?? '';
  const fault = digestFault('c4', c4);
  if (!/^\+?\d{1,9}$/.test(number)) log.invalid('stop', place, number === '' ? 'no sequencenr' : `sequencenr ${shown(number)}`, 'the number of its generation, from 1');
  if (fault !== undefined) log.invalid('stop', place, `c4 ${shown(c4)}`, fault);
  if (path?.includes('/') === true) log.unsafe(place, `path ${shown(path)}`, 'the name of a manifest beside the chain file');
  return path === undefined || path.includes('/') ? [] : [{ sequence: /^\+?\d{1,9}$/.test(number) ? Number(number) : 0, path, c4 }];
}

function checkSequence(entries: readonly ChainEntry[], log: ProblemLog): void {
  const numbers = entries.map(({ sequence }) => sequence);
  if (numbers.every((number, index) => number === index + 1)) return;
  log.invalid('stop', 'sequencenr', numbers.slice(0, 40).join(', '), `1 to ${numbers.length} without a hole, each once`);
}
