/** A JSON object whose keys are not known yet. */
export type JsonRecord = Readonly<Record<string, unknown>>;

/** The value as an object; undefined when it is a list, null or a plain value. */
export function asRecord(value: unknown): JsonRecord | undefined {
  return isRecord(value) ? value : undefined;
}

/** The value as a finite number. JSON has no infinity, but 1e999 reads as one. */
export function asNumber(value: unknown): number | undefined {
  return typeof value === 'number' && Number.isFinite(value) ? value : undefined;
}

/** The value as a text with something in it. */
export function asText(value: unknown): string | undefined {
  return typeof value === 'string' && value.trim() !== '' ? value.trim() : undefined;
}

function isRecord(value: unknown): value is JsonRecord {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
