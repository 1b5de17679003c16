/** Stands for a number that JSON cannot write. Nothing gemel keeps has a key of this name. */
const TAG = '~number';

/** A value as JSON text in which NaN, infinities and minus zero survive: focus at infinity is a value like any other. */
export function formatTagged(value: unknown): string {
  return JSON.stringify(value, (_key, each: unknown) => (typeof each === 'number' && !isPlain(each) ? { [TAG]: Object.is(each, -0) ? '-0' : String(each) } : each));
}

/**
 * The value that `formatTagged` wrote; undefined when the text is no JSON, as one cut off in writing is not.
 */
export function parseTagged(text: string): unknown {
  try {
    return text.includes(`"${TAG}"`) ? JSON.parse(text, (_key, each: unknown) => untagged(each)) : JSON.parse(text);
  } catch {
    return undefined;
  }
}

function isPlain(value: number): boolean {
  return Number.isFinite(value) && !Object.is(value, -0);
}

function untagged(value: unknown): unknown {
  if (typeof value !== 'object' || value === null || !(TAG in value)) return value;
  return Number(value[TAG]);
}
