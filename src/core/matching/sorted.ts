/** Code-unit order, the same on every machine. */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : Number(a > b);
}

/** Things by key, each list in the order given. */
export function groupBy<T>(things: Iterable<T>, keyOf: (thing: T) => string): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const thing of things) {
    const key = keyOf(thing);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [thing]);
    else group.push(thing);
  }
  return groups;
}
