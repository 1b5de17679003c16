import type { XmlElement } from './xml-element.ts';

interface Step {
  readonly name: string;
  readonly where?: { readonly attribute: string; readonly value: string };
}

/**
 * The texts a path names, in document order: `VideoFrame@captureFps` an attribute of every such element anywhere,
 * `Clip/TapeName` the text of a child, `Item[name=Shutter]@value` only where an attribute has a value.
 */
export function findInXml(root: XmlElement, path: string): readonly string[] {
  const [elementPath = '', attribute] = path.split('@');
  const [first, ...rest] = elementPath.split('/').map(parseStep);
  if (first === undefined) return [];
  let found = everyElement(root).filter((element) => isAt(element, first));
  for (const step of rest) found = found.flatMap((element) => element.children.filter((child) => isAt(child, step)));
  return found.flatMap((element) => (attribute === undefined ? [element.text] : Object.hasOwn(element.attributes, attribute) ? [element.attributes[attribute] ?? ''] : []));
}

/** Every element of a tree in document order, the root first. Walks without recursion: a hostile tree may be deep. */
export function everyElement(root: XmlElement): readonly XmlElement[] {
  const found: XmlElement[] = [];
  const waiting: XmlElement[] = [root];
  for (let element = waiting.pop(); element !== undefined; element = waiting.pop()) {
    found.push(element);
    for (const child of element.children.toReversed()) waiting.push(child);
  }
  return found;
}

function parseStep(text: string): Step {
  const [, name, attribute, value] = /^([^[\]]+)\[([^=\]]+)=([^\]]*)\]$/.exec(text) ?? [];
  return name === undefined || attribute === undefined || value === undefined ? { name: text } : { name, where: { attribute, value } };
}

function isAt(element: XmlElement, { name, where }: Step): boolean {
  return element.name === name && (where === undefined || (Object.hasOwn(element.attributes, where.attribute) && element.attributes[where.attribute] === where.value));
}
