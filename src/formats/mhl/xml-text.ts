/** Text of an element. XML readers turn a bare CR into LF, so it is written as a reference. */
export function escapeText(text: string): string {
  return text.replace(/[&<>\r]/g, (sign) => ENTITIES[sign] ?? sign);
}

/** The value of an attribute between double quotes; white space that readers would turn into spaces is written as references. */
export function escapeAttribute(text: string): string {
  return text.replace(/[&<>"\t\n\r]/g, (sign) => ENTITIES[sign] ?? sign);
}

const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', '\t': '&#9;', '\n': '&#10;', '\r': '&#13;' };

/** An attribute with the space before it; nothing when there is no value. */
export function attribute(name: string, value: string | number | undefined): string {
  return value === undefined ? '' : ` ${name}="${escapeAttribute(String(value))}"`;
}

/** An element with text in it on one line. */
export function textElement(name: string, text: string, attributes = ''): string {
  return `<${name}${attributes}>${escapeText(text)}</${name}>`;
}

/** Lines one step further in. */
export function indented(lines: readonly string[]): readonly string[] {
  return lines.map((line) => `  ${line}`);
}

/** An element around others; nothing when there are none. */
export function group(name: string, lines: readonly string[], attributes = ''): readonly string[] {
  return lines.length === 0 ? [] : [`<${name}${attributes}>`, ...indented(lines), `</${name}>`];
}
