/** No system opens a longer path. */
const MOST_SIGNS = 4096;

/** Undefined when a recorded path stays below its scope on every system, else what is wrong with it. */
export function pathFault(path: string): string | undefined {
  if (path === '') return 'it is empty';
  if (path.length > MOST_SIGNS) return `it is longer than ${MOST_SIGNS} signs`;
  if (path.includes('\u0000')) return 'it holds a NUL';
  if (path.includes('\\')) return 'it holds a back-slash, which parts folders on some systems';
  if (path.startsWith('/')) return 'it is absolute';
  if (/^[A-Za-z]:/.test(path)) return 'it begins with a drive letter';
  const parts = path.split('/');
  if (parts.includes('..')) return 'it climbs out with ".."';
  if (parts.includes('') || parts.includes('.')) return 'it is not in its shortest form';
  // XML 1.0 cannot write them, and terminals obey some of them.
  if (/[\p{Cc}\ufffe\uffff]/u.test(path) || !isWellFormed(path)) return 'it holds a character that no manifest can carry';
  return undefined;
}

/** What a path becomes on a system that takes upper and lower case, or composed and decomposed letters, for the same. */
export function foldedPath(path: string): string {
  return path.normalize('NFC').toLowerCase().normalize('NFC');
}

/** Paths that one system keeps apart and another takes for one file, in groups of two and more; sorted. */
export function collidingPaths(paths: readonly string[]): readonly (readonly string[])[] {
  const groups = new Map<string, Set<string>>();
  for (const path of paths) {
    const folded = foldedPath(path);
    const group = groups.get(folded);
    if (group === undefined) groups.set(folded, new Set([path]));
    else group.add(path);
  }
  return [...groups.values()].filter(({ size }) => size > 1).map((group) => [...group].toSorted(byCodeUnit)).toSorted(([a = ''], [b = '']) => byCodeUnit(a, b));
}

/** Order by UTF-16 code units. */
export function byCodeUnit(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** No half of a surrogate pair by itself. */
function isWellFormed(text: string): boolean {
  return !/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/.test(text);
}
