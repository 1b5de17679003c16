import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const src = join(root, 'src');

/** The floors of core, lowest first: each rests only on those before it. */
const FLOORS = ['timecode', 'slate', 'optics', 'picture', 'material', 'coverage', 'matching', 'checks'];

interface Import {
  readonly from: string;
  readonly to: string;
}

const files = readdirSync(src, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts'))
  .map((name) => name.replaceAll('\\', '/'))
  .toSorted();

/** Every import of every file: a path below src for our own, the bare specifier for anything else. */
function importsOf(file: string): readonly Import[] {
  const text = readFileSync(join(src, file), 'utf8').replaceAll(/\/\*[\s\S]*?\*\//g, '').replaceAll(/^\s*\/\/.*$/gm, '');
  const specifiers = [
    ...text.matchAll(/(?:^|\n)\s*(?:import|export)\s[^'"`;]*?from\s*['"]([^'"]+)['"]/g),
    ...text.matchAll(/(?:^|\n)\s*import\s*['"]([^'"]+)['"]/g),
    ...text.matchAll(/\bimport\(\s*['"]([^'"]+)['"]\s*\)/g),
  ].map((found) => found[1] ?? '');
  return specifiers.map((specifier) => ({
    from: file,
    to: specifier.startsWith('.') ? relative(src, resolve(dirname(join(src, file)), specifier)).replaceAll('\\', '/') : specifier,
  }));
}

const imports = files.flatMap(importsOf);
const own = (to: string): boolean => files.includes(to);
const room = (path: string): string => path.split('/')[0] ?? '';
const cell = (path: string): string => path.split('/')[1] ?? '';
const show = ({ from, to }: Import): string => `${from} imports ${to}`;
const offenders = (rule: (found: Import) => boolean): readonly string[] => imports.filter(rule).map(show);

/** Packages that do no input or output and may be used in formats and config. */
const PURE_PACKAGES = ['yaml', 'zod'];

describe('the walls of the house', () => {
  it('has rooms to guard', () => {
    expect(files.length).toBeGreaterThan(40);
    expect(imports.length).toBeGreaterThan(100);
  });

  it('core imports nothing but core', () => {
    expect(offenders(({ from, to }) => room(from) === 'core' && room(to) !== 'core')).toEqual([]);
  });

  it('a floor of core never rests on a floor above it', () => {
    expect(offenders(({ from, to }) => room(from) === 'core' && room(to) === 'core' && FLOORS.indexOf(cell(from)) < FLOORS.indexOf(cell(to)))).toEqual([]);
  });

  it('every folder of core is a known floor', () => {
    expect([...new Set(files.filter((file) => room(file) === 'core').map(cell))].filter((name) => !FLOORS.includes(name))).toEqual([]);
  });

  it('formats and config import core, formats and pure packages only; config may also use formats', () => {
    const allowed: Record<string, readonly string[]> = { formats: ['core', 'formats'], config: ['core', 'formats', 'config'] };
    expect(
      offenders(({ from, to }) => {
        const rooms = allowed[room(from)];
        return rooms !== undefined && !(own(to) ? rooms.includes(room(to)) : PURE_PACKAGES.includes(to));
      }),
    ).toEqual([]);
  });

  it('a step meets core, formats and ports, never another step, an adapter, a package or node', () => {
    expect(
      offenders(({ from, to }) => {
        if (room(from) !== 'steps') return false;
        if (!own(to)) return true;
        if (to === 'ports.ts' || room(to) === 'core' || room(to) === 'formats') return false;
        return !(room(to) === 'steps' && cell(to) === cell(from));
      }),
    ).toEqual([]);
  });

  it('an adapter never meets another adapter, a step, the command line or the configuration', () => {
    expect(
      offenders(({ from, to }) => {
        if (room(from) !== 'adapters' || !own(to)) return false;
        if (to === 'ports.ts' || room(to) === 'core' || room(to) === 'formats') return false;
        return !(room(to) === 'adapters' && cell(to) === cell(from));
      }),
    ).toEqual([]);
  });

  it('one package or outside program lives in one adapter', () => {
    const homes = new Map<string, Set<string>>();
    for (const { from, to } of imports) {
      if (own(to) || to.startsWith('node:') || PURE_PACKAGES.includes(to) || room(from) !== 'adapters') continue;
      homes.set(to, (homes.get(to) ?? new Set()).add(cell(from)));
    }
    expect([...homes].filter(([, cells]) => cells.size > 1)).toEqual([]);
  });

  it('the command line meets only the pipeline, the configuration and the shapes of what they return', () => {
    expect(
      offenders(({ from, to }) => room(from) === 'cli' && own(to) && !['cli', 'pipeline', 'config', 'core', 'formats'].includes(room(to))),
    ).toEqual([]);
  });

  it('nobody imports the command line, and only the command line imports the pipeline', () => {
    expect(offenders(({ from, to }) => room(to) === 'cli' && own(to) && room(from) !== 'cli')).toEqual([]);
    expect(offenders(({ from, to }) => room(to) === 'pipeline' && own(to) && !['pipeline', 'cli'].includes(room(from)))).toEqual([]);
  });

  it('nothing in src imports tests, sample media, templates or pipelines as code', () => {
    expect(offenders(({ to }) => to.startsWith('..'))).toEqual([]);
  });

  it('there are no import cycles', () => {
    expect(findCycle()).toEqual([]);
  });

  it('there are no barrel files and no default exports', () => {
    expect(files.filter((file) => /(^|\/)index\.ts$/.test(file))).toEqual([]);
    expect(files.filter((file) => /^export default /m.test(readFileSync(join(src, file), 'utf8')))).toEqual([]);
  });

  it('only the command line and the pipeline look at arguments, environment or exit', () => {
    const pattern = /\bprocess\.(argv|env|exit|exitCode|stdout|stderr)\b|\bconsole\./;
    const found = files.filter((file) => !['cli', 'pipeline'].includes(room(file)) && pattern.test(readFileSync(join(src, file), 'utf8')));
    expect(found).toEqual([]);
  });

  it('judgement has no clock and no dice', () => {
    const pattern = /\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\bperformance\.now\b|\.localeCompare\(/;
    const found = files.filter((file) => ['core', 'formats', 'steps'].includes(room(file)) && pattern.test(readFileSync(join(src, file), 'utf8')));
    expect(found).toEqual([]);
  });
});

/** The first cycle found among our own files. Type-only imports count too: a cycle of types is a cycle of ideas. */
function findCycle(): readonly string[] {
  const next = new Map<string, readonly string[]>(files.map((file) => [file, imports.filter(({ from, to }) => from === file && own(to)).map(({ to }) => to)]));
  const state = new Map<string, 'open' | 'done'>();
  const trail: string[] = [];
  const visit = (file: string): readonly string[] => {
    if (state.get(file) === 'done') return [];
    if (state.get(file) === 'open') return [...trail.slice(trail.indexOf(file)), file];
    state.set(file, 'open');
    trail.push(file);
    for (const to of next.get(file) ?? []) {
      const cycle = visit(to);
      if (cycle.length > 0) return cycle;
    }
    trail.pop();
    state.set(file, 'done');
    return [];
  };
  for (const file of files) {
    const cycle = visit(file);
    if (cycle.length > 0) return cycle;
  }
  return [];
}
