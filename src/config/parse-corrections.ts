import { z } from 'zod';
import type { Correction } from '../core/material/correction.ts';
import type { ReadingProblem } from '../core/material/finding.ts';
import { dotted, explainValue, explainYaml } from './explain.ts';
import type { YamlProblem } from './explain.ts';
import { present } from './present.ts';
import { WRITTEN_ROLES } from './written.ts';
import { readYaml } from './yaml-text.ts';
import type { YamlText } from './yaml-text.ts';

const text = z.string().trim().min(1);
const clip = text.meta({ description: 'the file name of a clip', examples: ['A003C012_261125_R7QK.mov'] });
const role = z.enum(WRITTEN_ROLES).meta({ description: `one of ${WRITTEN_ROLES.join(', ')}`, examples: ['clean'] });
const basis = {
  id: text.meta({ description: 'a name of its own for this correction', examples: ['27B-slate'] }).optional(),
  who: text.meta({ description: 'the name of whoever decided', examples: ['R. Amsel, script'] }),
  why: text.meta({ description: 'the reason', examples: ['board misread, see log'] }),
};
const pair = { lead: clip, clip };

/** What each kind of correction must say. */
const KINDS = {
  slate: z.strictObject({ kind: z.literal('slate'), ...basis, clip, slate: text.meta({ description: 'a slate', examples: ['27B-3'] }) }),
  role: z.strictObject({ kind: z.literal('role'), ...basis, clip, role }),
  confirm: z.strictObject({ kind: z.literal('confirm'), ...basis, ...pair, role: role.optional() }),
  forbid: z.strictObject({ kind: z.literal('forbid'), ...basis, ...pair }),
  sync: z.strictObject({
    kind: z.literal('sync'),
    ...basis,
    ...pair,
    offset: z.int().meta({ description: 'whole frames: frame of the clip = frame of the lead + offset', examples: [-12] }),
  }),
} as const;

const kindOfEntry = z
  .looseObject({ kind: z.enum(['slate', 'role', 'confirm', 'forbid', 'sync']).meta({ description: 'slate, role, confirm, forbid or sync', examples: ['slate'] }) })
  .meta({ description: 'a map with kind, clip, who and why', examples: [{ kind: 'role', clip: 'A003C012_261125_R7QK.mov', role: 'clean' }] });

const listOfEntries = z
  .array(z.unknown())
  .nullable()
  .meta({ description: 'a list of corrections', examples: [[{ kind: 'role', clip: 'A003C012_261125_R7QK.mov', role: 'clean' }]] });

/**
 * Corrections kept by hand. An entry that cannot be read, or that answers again what an earlier one answers, is a problem and
 * is not used; the others still count. An entry without an id goes by its line.
 */
export function parseCorrections(yamlText: string, from: string): { readonly corrections: readonly Correction[]; readonly problems: readonly ReadingProblem[] } {
  const yaml = readYaml(yamlText);
  const faults = explainYaml(listOfEntries, yaml);
  if (faults.length > 0) return { corrections: [], problems: faults.map((fault) => asProblem(fault, from, yaml.problems.length > 0)) };
  const corrections: Correction[] = [];
  const problems: ReadingProblem[] = [];
  const earlier: Earlier = { byId: new Map(), byQuestion: new Map() };
  for (const [index, entry] of (listOfEntries.parse(yaml.value) ?? []).entries()) {
    const read = readEntry(entry, index, yaml, from, earlier);
    if ('correction' in read) {
      corrections.push(read.correction);
      earlier.byId.set(read.correction.id, read.correction);
      earlier.byQuestion.set(question(read.correction), read.correction);
    } else problems.push(...read.faults.map((fault) => asProblem(fault, from, false)));
  }
  return { corrections, problems };
}

type ReadEntry = { readonly correction: Correction } | { readonly faults: readonly YamlProblem[] };

interface Earlier {
  readonly byId: Map<string, Correction>;
  readonly byQuestion: Map<string, Correction>;
}

function readEntry(entry: unknown, index: number, yaml: YamlText, from: string, earlier: Earlier): ReadEntry {
  const kind = kindOfEntry.safeParse(entry);
  if (!kind.success) return { faults: explainValue(kindOfEntry, yaml, [index]) };
  const schema = KINDS[kind.data.kind];
  const written = schema.safeParse(entry);
  if (!written.success) return { faults: explainValue(schema, yaml, [index]) };
  const at = yaml.at([index]);
  const place = `${from}, line ${at.split(':')[0]}`;
  const correction: Correction = { ...present(written.data), id: written.data.id ?? place, from: place };
  const other = earlier.byId.get(correction.id) ?? earlier.byQuestion.get(question(correction));
  if (other === undefined) return { correction };
  const taken = other.id === correction.id;
  return {
    faults: [
      {
        at,
        key: dotted([index]),
        found: taken ? `the id "${other.id}" again` : `a second answer to what ${other.from} answers`,
        expected: taken ? 'each id once' : 'one correction a question',
        remedy: 'Take one of the two out; until then the earlier one is used',
      },
    ],
  };
}

/** What a correction decides; two answers to one question cannot both hold. */
function question(correction: Correction): string {
  switch (correction.kind) {
    case 'slate':
    case 'role':
      return JSON.stringify([correction.kind, correction.clip]);
    case 'confirm':
    case 'forbid':
      return JSON.stringify(['match', correction.lead, correction.clip]);
    case 'sync':
      return JSON.stringify(['sync', correction.lead, correction.clip]);
    default:
      return correction satisfies never;
  }
}

function asProblem({ at, key, found, expected, remedy }: YamlProblem, from: string, wholeFile: boolean): ReadingProblem {
  const [line, column] = at.split(':');
  return {
    code: wholeFile ? 'unreadable-file' : 'unreadable-value',
    severity: 'warn',
    file: from,
    place: `line ${line}, column ${column}`,
    found: key === '' ? found : `${key}: ${found}`,
    expected,
    remedy: `${remedy}.`,
  };
}
