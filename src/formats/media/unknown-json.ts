/** A key of something parsed from JSON; undefined when there is none. Inherited keys do not count. */
export function member(value: unknown, key: string): unknown {
  if (typeof value !== 'object' || value === null || !Object.hasOwn(value, key)) return undefined;
  const holder: Readonly<Record<string, unknown>> = { ...value };
  return holder[key];
}

/** The elements of a list; none when it is no list. */
export function elements(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}

/** Text that says something: trimmed, undefined when blank or no text. */
export function textMember(value: unknown, key: string): string | undefined {
  const text = member(value, key);
  return typeof text === 'string' && text.trim() !== '' ? text.trim() : undefined;
}

/** A finite number, also when it is written as text. */
export function numberMember(value: unknown, key: string): number | undefined {
  const found = member(value, key);
  const number = typeof found === 'number' ? found : typeof found === 'string' && /^[-+]?\d/u.test(found.trim()) ? Number(found) : Number.NaN;
  return Number.isFinite(number) ? number : undefined;
}
