import type { ValidationError } from 'fast-xml-parser';
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { UnreadableXmlError } from '../../core/material/errors.ts';
import type { XmlElement, XmlReader } from '../../ports.ts';
import { decodeXml } from './decode-xml.ts';

/** A camera's sidecar holds a few hundred elements, ten deep; far beyond that it is no sidecar. */
const MOST_ELEMENTS = 100_000;
/** A hash list of 200,000 files. */
const MOST_ELEMENTS_OF_LIST = 1_000_000;
const MOST_DEPTH = 100;
const LONGEST_MESSAGE = 200;
const DOCUMENT_TYPE = 'it declares a document type (DOCTYPE), which a sidecar has no need of and which can hide an entity bomb';
/** A parsed element: its children under its name, its attributes under ":@". */
type Ordered = Readonly<Record<string, unknown>>;

const OPTIONS = {
  preserveOrder: true,
  ignoreAttributes: false,
  attributeNamePrefix: '',
  parseTagValue: false,
  parseAttributeValue: false,
  trimValues: false,
  ignoreDeclaration: true,
  ignorePiTags: true,
  // Numeric character references are decoded only with this on; document types, where entities are made, never get here.
  htmlEntities: true,
  processEntities: true,
  maxNestedTags: MOST_DEPTH,
} as const;

/** Reads XML sidecars. Values stay as they are written (a reel "0012" does not become 12), names lose their prefixes. */
export class FastXmlReader implements XmlReader {
  readonly #lists: boolean;
  readonly #parser: XMLParser;

  /** `lists`: long documents, whose elements keep their namespace and every space, as hash lists need. */
  constructor({ lists = false }: { readonly lists?: boolean } = {}) {
    this.#lists = lists;
    this.#parser = new XMLParser({ ...OPTIONS, removeNSPrefix: !lists });
  }

  parse(document: string | Uint8Array): XmlElement {
    const text = (typeof document === 'string' ? document : decodeXml(document)).replace(/^\uFEFF/, '');
    // Anywhere at all: the parser would obey one in the midst of the document too.
    if (/<!\s*doctype/i.test(text)) throw new UnreadableXmlError(DOCUMENT_TYPE);
    assertFewMarks(text, this.#lists ? MOST_ELEMENTS_OF_LIST : MOST_ELEMENTS);
    const verdict = XMLValidator.validate(text);
    if (verdict !== true) throw notWellFormed(verdict.err);
    const roots = this.#tree(text).filter((node) => elementName(node) !== undefined);
    const [root] = roots;
    if (root === undefined || roots.length > 1) throw new UnreadableXmlError(`it has ${roots.length} root elements instead of one`);
    return this.#lists ? toListElement(root, { left: MOST_ELEMENTS_OF_LIST }, {}) : toElement(root, { left: MOST_ELEMENTS });
  }

  #tree(text: string): readonly Ordered[] {
    try {
      return nodes(this.#parser.parse(text));
    } catch (cause) {
      throw new UnreadableXmlError(shown(cause instanceof Error ? cause.message : String(cause)), undefined, { cause });
    }
  }
}

/** Before it is taken apart, for a tree of so many would not fit into memory. An element has at most eight attributes on average. */
function assertFewMarks(text: string, most: number): void {
  let [elements, attributes] = [0, 0];
  for (let at = text.indexOf('<'); at !== -1; at = text.indexOf('<', at + 1)) if (text[at + 1] !== '/') elements += 1;
  for (let at = text.indexOf('='); at !== -1; at = text.indexOf('=', at + 1)) attributes += 1;
  if (elements > most) throw new UnreadableXmlError(`it has more than ${most} elements`);
  if (attributes > 8 * most) throw new UnreadableXmlError(`it has more than ${8 * most} attributes`);
}

function notWellFormed({ msg, line }: ValidationError['err']): UnreadableXmlError {
  // The list of what is still open comes with a line number that means nothing.
  if (msg.startsWith("Invalid '[")) return new UnreadableXmlError('it ends before its elements are closed: it was cut off');
  return new UnreadableXmlError(shown(msg.replace(/\.$/, '')), line);
}

/** The parser quotes what it stumbles over, however long. */
function shown(message: string): string {
  return message.length > LONGEST_MESSAGE ? `${message.slice(0, LONGEST_MESSAGE)}…` : message;
}

function toElement(node: Ordered, bound: { left: number }): XmlElement {
  countDown(bound, MOST_ELEMENTS);
  const name = elementName(node) ?? '';
  const content = nodes(node[name]);
  const children = content.filter((child) => elementName(child) !== undefined).map((child) => toElement(child, bound));
  const text = content.map((child) => ('#text' in child ? String(child['#text']) : '')).join('');
  return { name, attributes: attributesOf(node[':@']), children, text: text.trim() };
}

function toListElement(node: Ordered, bound: { left: number }, above: Readonly<Record<string, string>>): XmlElement {
  countDown(bound, MOST_ELEMENTS_OF_LIST);
  const key = elementName(node) ?? '';
  const attributes = allAttributes(node[':@']);
  const declared = attributes.filter(([name]) => /^xmlns(:|$)/.test(name)).map(([name, value]) => [name.slice('xmlns:'.length), value] as const);
  const scope = declared.length === 0 ? above : { ...above, ...Object.fromEntries(declared) };
  const colon = key.indexOf(':');
  const prefix = key.slice(0, Math.max(0, colon));
  const namespace = Object.hasOwn(scope, prefix) ? scope[prefix] : undefined;
  const content = nodes(node[key]);
  const wholeText = content.map((child) => ('#text' in child ? String(child['#text']) : '')).join('');
  return {
    name: key.slice(colon + 1),
    attributes: Object.fromEntries(attributes.filter(([name]) => !/^xmlns(:|$)/.test(name))),
    children: content.filter((child) => elementName(child) !== undefined).map((child) => toListElement(child, bound, scope)),
    text: wholeText.trim(),
    wholeText,
    ...(namespace === undefined ? {} : { namespace }),
  };
}

function countDown(bound: { left: number }, most: number): void {
  if (--bound.left < 0) throw new UnreadableXmlError(`it has more than ${most} elements`);
}

function elementName(node: Ordered): string | undefined {
  return Object.keys(node).find((key) => key !== ':@' && key !== '#text');
}

function attributesOf(attributes: unknown): Readonly<Record<string, string>> {
  return Object.fromEntries(allAttributes(attributes).filter(([name]) => name !== 'xmlns'));
}

function allAttributes(attributes: unknown): readonly (readonly [name: string, value: string])[] {
  if (typeof attributes !== 'object' || attributes === null) return [];
  return Object.entries(attributes).map(([name, value]) => [name, String(value)] as const);
}

function nodes(value: unknown): readonly Ordered[] {
  return Array.isArray(value) ? value.filter((node): node is Ordered => typeof node === 'object' && node !== null) : [];
}
