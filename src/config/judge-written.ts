import { FIELDS, headingOf, normaliseHeading } from '../core/material/heading.ts';
import { rateFromText } from '../core/timecode/rate.ts';
import type { Config } from './resolved.ts';
import { WRITTEN_ROLES, writtenPipeline } from './written.ts';
import type { WrittenPipeline } from './written.ts';

/** A problem no single value shows, at a path of the pipeline file. */
export interface Contradiction {
  readonly path: readonly (string | number)[];
  readonly part: 'key' | 'value';
  readonly found: string;
  readonly expected: string;
  readonly remedy: string;
}

/** Where a pipeline file contradicts itself, or leaves the whole without sense. */
export function findContradictions(written: WrittenPipeline, config: Config): readonly Contradiction[] {
  return [
    ...judgeRate(written),
    ...judgeDefaultMethod(written, config),
    ...judgeMethods(written, config),
    ...judgeTolerances(written, config),
    ...judgeRoleWords(written),
    ...judgeSuffixes(written, config),
    ...judgeHeadings(written),
  ];
}

/** Keys the default pipeline must set and does not. */
export function findGaps(written: WrittenPipeline): readonly Contradiction[] {
  const { tolerances, slates, headings, role_words: roleWords, handles } = writtenPipeline.shape;
  const missing = (at: readonly string[], known: object, own: object = {}): readonly Contradiction[] =>
    Object.keys(known)
      .filter((key) => !Object.hasOwn(own, key))
      .map((key) => ({ path: [...at, key], part: 'value', found: 'nothing', expected: 'a value', remedy: 'Say it: the default pipeline leaves nothing open' }));
  const limits = Object.entries(written.tolerances ?? {}).flatMap(([name, limit]) =>
    typeof limit === 'object' ? missing(['tolerances', name], { warn: 0, stop: 0 }, limit) : [],
  );
  return [
    ...missing([], writtenPipeline.shape, written),
    ...missing(['tolerances'], tolerances.unwrap().shape, written.tolerances),
    ...limits,
    ...missing(['slates'], slates.unwrap().shape, written.slates),
    ...missing(['headings'], headings.unwrap().shape, written.headings),
    ...missing(['role_words'], roleWords.unwrap().shape, written.role_words),
    ...missing(['handles'], handles.unwrap().shape, written.handles),
  ];
}

function judgeRate({ base_rate: rate }: WrittenPipeline): readonly Contradiction[] {
  if (rate === undefined || rate === null || rateFromText(String(rate)) !== undefined) return [];
  return [{ path: ['base_rate'], part: 'value', found: String(rate), expected: 'a frame rate', remedy: 'Write for example 24, 23.976 or 24000/1001' }];
}

function judgeDefaultMethod(written: WrittenPipeline, config: Config): readonly Contradiction[] {
  if (Object.hasOwn(config.methods, config.defaultMethod)) return [];
  const known = Object.keys(config.methods).join(', ');
  return [
    {
      path: ['default_method'],
      part: 'value',
      found: `"${config.defaultMethod}"`,
      expected: `one of ${known}`,
      remedy: 'Use one of these, or describe it under "methods"',
    },
  ];
}

function judgeMethods(written: WrittenPipeline, config: Config): readonly Contradiction[] {
  return Object.keys(written.methods ?? {}).flatMap((name) => {
    const method = config.methods[name];
    if (method === undefined) return [];
    const at = ['methods', name];
    const problems: Contradiction[] = [];
    if (method.required.length === 0) {
      problems.push({ path: at, part: 'key', found: 'no required pass', expected: 'at least one', remedy: 'Add "required: [lead, clean]" or whatever it needs' });
    }
    const asked = [...method.required, ...method.wanted];
    for (const role of new Set(asked.filter((one, index) => asked.indexOf(one) !== index))) {
      problems.push({ path: at, part: 'key', found: `"${role}" twice`, expected: 'each pass once', remedy: 'Name it under "required" or under "wanted"' });
    }
    return problems;
  });
}

function judgeTolerances(written: WrittenPipeline, config: Config): readonly Contradiction[] {
  return Object.entries(written.tolerances ?? {}).flatMap(([name, own]) => {
    const limit = Object.entries(config.tolerances).find(([key]) => key.toLowerCase() === name.replaceAll('_', ''))?.[1];
    if (typeof own !== 'object' || typeof limit !== 'object' || limit.warn <= limit.stop) return [];
    return [
      {
        path: ['tolerances', name],
        part: 'value',
        found: `warn ${limit.warn} above stop ${limit.stop}`,
        expected: 'warn to be the smaller one, or the same',
        remedy: 'Write both: what is not written comes from the defaults',
      },
    ];
  });
}

/** A word under two roles would make every clip that carries it a conflict. */
function judgeRoleWords(written: WrittenPipeline): readonly Contradiction[] {
  const seen = new Map<string, string>();
  return WRITTEN_ROLES.flatMap((role) =>
    (written.role_words?.[role] ?? []).flatMap((word, index): readonly Contradiction[] => {
      const other = seen.get(word.toLowerCase());
      seen.set(word.toLowerCase(), role);
      if (other === undefined || other === role) return [];
      return [{ path: ['role_words', role, index], part: 'value', found: `"${word}", which stands under "${other}" too`, expected: 'each word to mean one role', remedy: 'Take it out of one of them' }];
    }),
  );
}

function judgeSuffixes(written: WrittenPipeline, config: Config): readonly Contradiction[] {
  return (written.slates?.suffixes ?? []).flatMap((suffix, index) => {
    if (config.roleWords.some(({ word }) => word === suffix.toLowerCase())) return [];
    return [
      {
        path: ['slates', 'suffixes', index],
        part: 'value',
        found: `"${suffix}"`,
        expected: 'a word that names a role',
        remedy: 'List it under "role_words" as well, beneath the role it names',
      },
    ];
  });
}

/** No alias may stand for two fields, nor hide a canonical heading. */
function judgeHeadings(written: WrittenPipeline): readonly Contradiction[] {
  const canonical = new Map(FIELDS.map((field) => [normaliseHeading(headingOf(field)), headingOf(field)]));
  const seen = new Map<string, string>();
  return Object.entries(written.headings ?? {}).flatMap(([heading, aliases]) =>
    (aliases ?? []).flatMap((alias, index): readonly Contradiction[] => {
      const at = { path: ['headings', heading, index], part: 'value' } as const;
      const plain = normaliseHeading(alias);
      const own = canonical.get(plain);
      const other = seen.get(plain);
      seen.set(plain, heading);
      if (plain === '') return [{ ...at, found: `"${alias}"`, expected: 'a heading with letters in it', remedy: 'Write the heading of the column, or take it out' }];
      if (own !== undefined && own !== heading) {
        return [{ ...at, found: `"${alias}", which always means "${own}"`, expected: 'another name than a canonical heading', remedy: 'Rename the column in the report, or take this out' }];
      }
      if (other !== undefined && other !== heading) {
        return [{ ...at, found: `"${alias}", which stands for "${other}" too`, expected: 'each heading to stand for one field', remedy: 'Take it out of one of them' }];
      }
      return [];
    }),
  );
}
