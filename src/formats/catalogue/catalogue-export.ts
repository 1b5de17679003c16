/** What a catalogue holds, one thing at a time. */
export type CatalogueEntry =
  | { readonly kind: 'place'; readonly job: string; readonly file: string; readonly signature: string; readonly content: string | null }
  | { readonly kind: 'kept'; readonly of: string; readonly key: string; readonly text: string };

/** The first line of an export: what the others are. */
export const EXPORT_HEAD = `${JSON.stringify({ schema: 'gemel/catalogue/1' })}\n`;

/** One line of an export: `{"place", "job", "signature", "content"}` or `{"kind", "key", "value"}`. `value` is JSON where JSON was kept, else the text. */
export function formatEntry(entry: CatalogueEntry): string {
  if (entry.kind === 'place') return `${JSON.stringify({ place: entry.file, job: entry.job, signature: entry.signature, content: entry.content })}\n`;
  return `${JSON.stringify({ kind: entry.of, key: entry.key, value: jsonOr(entry.text) })}\n`;
}

/** As it was kept: focus at infinity stays `{"~number": "Infinity"}`, which JSON has no word for. */
function jsonOr(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return text;
  }
}
