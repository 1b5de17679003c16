import { text, typed } from './schema.ts';
import type { Span } from './time.ts';
import { isFault, readSpan } from './time.ts';

/** A marker: its range in the time of what carries it, and its words. */
export function readMarker(value: unknown): { readonly at: Span; readonly text: string } | undefined {
  const marker = typed(value);
  if (marker?.name !== 'Marker') return undefined;
  const at = readSpan(marker.keys['marked_range'] ?? marker.keys['range']);
  if (at === undefined || isFault(at)) return undefined;
  const words = [text(marker.keys['name']), text(marker.keys['comment'])].filter((part) => part !== undefined);
  return { at, text: [...new Set(words)].join(' ') };
}
