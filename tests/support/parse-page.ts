import type { DefaultTreeAdapterTypes, ParserError } from 'parse5';
import { parse } from 'parse5';

/** One element of a page: its name, attributes and the text below it. */
export interface PageElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly text: string;
}

/** A page read as the HTML Living Standard says (section 13.2), by a parser that is not ours: its parse errors, and its elements in order. */
export function parsePage(page: string): { readonly errors: readonly string[]; readonly elements: readonly PageElement[] } {
  const errors: string[] = [];
  const document = parse(page, {
    sourceCodeLocationInfo: true,
    onParseError: ({ code, startOffset }: ParserError) => errors.push(`${code} at ${startOffset}: ${page.slice(Math.max(0, startOffset - 40), startOffset + 40)}`),
  });
  return { errors, elements: elementsBelow(document) };
}

function elementsBelow(node: DefaultTreeAdapterTypes.ParentNode): readonly PageElement[] {
  return node.childNodes.flatMap((child) =>
    'tagName' in child ? [{ name: child.tagName, attributes: Object.fromEntries(child.attrs.map(({ name, value }) => [name, value])), text: textOf(child) }, ...elementsBelow(child)] : [],
  );
}

function textOf(node: DefaultTreeAdapterTypes.ParentNode): string {
  return node.childNodes.map((child) => ('value' in child ? child.value : 'childNodes' in child ? textOf(child) : '')).join('');
}
