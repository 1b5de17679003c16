/** One element: local name without prefix, attributes by local name, child elements in order, own text trimmed. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlElement[];
  readonly text: string;
  /** The namespace its name belongs to and its own text with every space kept: only from a reader that was asked for them. */
  readonly namespace?: string;
  readonly wholeText?: string;
}
