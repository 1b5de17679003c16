import { visibleText } from '../terminal/visible-text.ts';

/** A piece of a page that is already safe to stand in it. Made by `html` alone, so that nothing else can be. */
export interface Html {
  readonly markup: string;
}

/** What may stand between pieces of markup: texts and numbers are escaped, pieces made by `html` stand as they are, undefined is nothing. */
export type Part = string | number | Html | readonly Html[] | undefined;

/** Markup with values in it, each escaped for text and for quoted attributes alike; control characters are made visible. */
export function html(pieces: TemplateStringsArray, ...parts: readonly Part[]): Html {
  let markup = pieces[0] ?? '';
  parts.forEach((part, index) => {
    markup += markupOf(part) + (pieces[index + 1] ?? '');
  });
  return { markup };
}

const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };

function markupOf(part: Part): string {
  if (part === undefined) return '';
  if (typeof part === 'string') return visibleText(part).replace(/[&<>"']/g, (sign) => ENTITIES[sign] ?? '');
  if (typeof part === 'number') return String(part);
  return 'markup' in part ? part.markup : part.map(({ markup }) => markup).join('');
}
