import type { XmlElement } from '../sidecars/xml-element.ts';
import type { ProblemLog } from './problem-log.ts';

/**
 * The children of an element that its schema knows, by name. Strangers, children out of the schema's order and children given
 * twice are told to the log; a list (`many`) may repeat.
 */
export function knownChildren(
  element: XmlElement,
  { order, many = [], namespace }: { readonly order: readonly string[]; readonly many?: readonly string[]; readonly namespace: string },
  place: string,
  log: ProblemLog,
): ReadonlyMap<string, readonly XmlElement[]> {
  const known = new Map<string, XmlElement[]>();
  let furthest = 0;
  for (const child of element.children) {
    const rank = child.namespace === namespace ? order.indexOf(child.name) : -1;
    if (rank < 0) {
      log.invalid('warn', place, `element ${child.name}`, `only ${order.join(', ')}`);
      continue;
    }
    if (rank < furthest) log.invalid('warn', place, `${child.name} after ${order[furthest] ?? ''}`, `the order ${order.join(', ')}`);
    furthest = Math.max(furthest, rank);
    const before = known.get(child.name);
    if (before === undefined) known.set(child.name, [child]);
    else if (many.includes(child.name)) before.push(child);
    else log.invalid('stop', place, `${child.name} twice`, `${child.name} once`);
  }
  return known;
}

/** The text of an element with every space kept. */
export function wholeText({ wholeText: whole, text }: XmlElement): string {
  return whole ?? text;
}

/** An attribute, undefined when it is not there. */
export function attributeOf({ attributes }: XmlElement, name: string): string | undefined {
  return Object.hasOwn(attributes, name) ? attributes[name] : undefined;
}

const DATE_TIME = /^-?\d{4,}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])T([01]\d|2[0-4]):[0-5]\d:[0-5]\d(\.\d+)?(Z|[+-]\d{2}:\d{2})?$/;

/** A date and time of XML Schema, as written; what is none is told to the log and left out. */
export function dateTime(text: string | undefined, what: string, place: string, log: ProblemLog): string | undefined {
  if (text === undefined || DATE_TIME.test(text)) return text;
  log.invalid('warn', place, `${what} "${text}"`, 'a date and time such as 2026-11-24T18:15:00Z');
  return undefined;
}
