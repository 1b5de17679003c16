import type { XmlElement } from '../../../src/formats/sidecars/xml-element.ts';

/** An element of a plain XML tree. */
export function element(name: string, attributes: Readonly<Record<string, string>> = {}, children: readonly XmlElement[] = [], text = ''): XmlElement {
  return { name, attributes, children, text };
}
