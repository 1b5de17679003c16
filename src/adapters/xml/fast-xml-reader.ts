import type { ValidationError } from 'fast-xml-parser';
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { UnreadableXmlError } from '../../core/material/errors.ts';
import type { XmlElement, XmlReader } from '../../ports.ts';
import { decodeXml } from './decode-xml.ts';

/** A camera's sidecar holds a few hundred elements, ten deep; far beyond that it is no sidecar. */
const MOST_ELEMENTS = 100_000;
const MOST_DEPTH = 100;
const DOCUMENT_TYPE = 'it declares a document type (DOCTYPE), which a sidecar has no need of and which can hide an entity bomb';
/** A parsed element: its children under its name, its attributes under ":@". */
type Ordered = Readonly<Record<string, unknown>>;

/** Reads XML sidecars. Values stay as they are written (a reel "0012" does not become 12), names lose their prefixes. */
export class FastXmlReader implements XmlReader {
  readonly #parser = new XMLParser({
    preserveOrder: true,
    ignoreAttributes: false,
    attributeNamePrefix: '',
    removeNSPrefix: true,
    parseTagValue: false,
    parseAttributeValue: false,
    trimValues: false,
    ignoreDeclaration: true,
    ignorePiTags: true,
    // Numeric character references are decoded only with this on; document types, where entities are made, never get here.
    htmlEntities: true,
    processEntities: true,
    maxNestedTags: MOST_DEPTH,
  });

  parse(document: string | Uint8Array): XmlElement {
    const text = (typeof document === 'string' ? document : decodeXml(document)).replace(/^\uFEFF/, '');
    // Anywhere at all: the parser would obey one in the midst of the document too.
    if (/<!\s*doctype/i.test(text)) throw new UnreadableXmlError(DOCUMENT_TYPE);
    const verdict = XMLValidator.validate(text);
    if (verdict !== true) throw notWellFormed(verdict.err);
    const roots = this.#tree(text).filter((node) => elementName(node) !== undefined);
    const [root] = roots;
    if (root === undefined || roots.length > 1) throw new UnreadableXmlError(`it has ${roots.length} root elements instead of one`);
    return toElement(root, { left: MOST_ELEMENTS });
  }

  #tree(text: string): readonly Ordered[] {
    try {
      return nodes(this.#parser.parse(text));
    } catch (cause) {
      throw new UnreadableXmlError(cause instanceof Error ? cause.message : String(cause), undefined, { cause });
    }
  }
}

function notWellFormed({ msg, line }: ValidationError['err']): UnreadableXmlError {
  // The list of what is still open comes with a line number that means nothing.
  if (msg.startsWith("Invalid '[")) return new UnreadableXmlError('it ends before its elements are closed: it was cut off');
  return new UnreadableXmlError(msg.replace(/\.$/, ''), line);
}

function toElement(node: Ordered, bound: { left: number }): XmlElement {
  if (--bound.left < 0) throw new UnreadableXmlError(`it has more than ${MOST_ELEMENTS} elements`);
  const name = elementName(node) ?? '';
  const content = nodes(node[name]);
  const children = content.filter((child) => elementName(child) !== undefined).map((child) => toElement(child, bound));
  const text = content.map((child) => ('#text' in child ? String(child['#text']) : '')).join('');
  return { name, attributes: attributesOf(node[':@']), children, text: text.trim() };
}

function elementName(node: Ordered): string | undefined {
  return Object.keys(node).find((key) => key !== ':@' && key !== '#text');
}

function attributesOf(attributes: unknown): Readonly<Record<string, string>> {
  if (typeof attributes !== 'object' || attributes === null) return {};
  return Object.fromEntries(Object.entries(attributes).flatMap(([name, value]) => (name === 'xmlns' ? [] : [[name, String(value)]])));
}

function nodes(value: unknown): readonly Ordered[] {
  return Array.isArray(value) ? value.filter((node): node is Ordered => typeof node === 'object' && node !== null) : [];
}
