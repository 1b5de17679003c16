/** One element: local name without prefix, attributes by local name, child elements in order, own text trimmed. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlElement[];
  readonly text: string;
}
