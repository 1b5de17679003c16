import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import type { GroupRules } from '../material/group-rules.ts';
import type { Method } from '../material/method.ts';
import type { ShotRow } from '../material/shot-list.ts';

/** The method of a set and how it was decided; findings for methods nobody knows and for sources that differ. */
export interface ChosenMethod {
  readonly method: Method;
  readonly from: string;
  readonly findings: readonly Finding[];
}

interface NamedMethod {
  readonly name: string;
  readonly from: string;
}

/** Shot list, then the log's method column, then a method named in a note, then the pipeline's default. `rows` are the set's shots. */
export function chooseMethod(clips: readonly Clip[], rows: readonly ShotRow[], rules: GroupRules, setUp: string): ChosenMethod {
  const byName = new Map(Object.entries(rules.methods).map(([name, method]) => [folded(name), method]));
  const said: readonly NamedMethod[] = [
    ...rows.flatMap(({ method, from }) => (method === undefined ? [] : [{ name: method, from: `shot list, ${from}` }])),
    ...clips.flatMap(methodsInLog),
  ];
  const findings = said.filter(({ name }) => !byName.has(folded(name))).map((one) => unknownMethod(one, clips, rules));
  const known = said.filter(({ name }) => byName.has(folded(name)));
  const [first] = known;
  const method = first === undefined ? undefined : byName.get(folded(first.name));
  if (first !== undefined && method !== undefined) {
    const other = known.find(({ name }) => folded(name) !== folded(first.name));
    return { method, from: first.from, findings: other === undefined ? findings : [...findings, differ(first, other, clips, setUp)] };
  }
  const noted = methodInNotes(clips, byName);
  if (noted !== undefined) return { ...noted, findings };
  const fallback = rules.methods[rules.defaultMethod];
  if (fallback === undefined) throw new RangeError(`the default method "${rules.defaultMethod}" is not among the methods`);
  return { method: fallback, from: 'default', findings };
}

function methodsInLog(clip: Clip): readonly NamedMethod[] {
  const { method } = clip;
  if (method === undefined) return [];
  const source = clip.statements.find((statement) => statement.field === 'method' && statement.value === method)?.source;
  return [{ name: method, from: source === undefined ? clip.file : [source.file, source.place].filter((part) => part !== '').join(', ') }];
}

/** A note may name a method in passing, so only one name in all notes of the set counts. */
function methodInNotes(clips: readonly Clip[], byName: ReadonlyMap<string, Method>): Pick<ChosenMethod, 'method' | 'from'> | undefined {
  const found = new Map<Method, string>();
  for (const clip of clips) {
    for (const note of clip.notes) {
      const words = ` ${folded(note)} `;
      for (const [name, method] of byName) {
        if (!words.includes(` ${name} `) || words.includes(` no ${name} `) || words.includes(` not ${name} `)) continue;
        if (!found.has(method)) found.set(method, `note of ${clip.file}: "${note}"`);
      }
    }
  }
  const [only] = found;
  return only === undefined || found.size > 1 ? undefined : { method: only[0], from: only[1] };
}

/** Words in lower case with single spaces: "Screen-Element" and "screen element" are one. */
function folded(text: string): string {
  return (text.normalize('NFKC').toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? []).join(' ');
}

function unknownMethod({ name, from }: NamedMethod, clips: readonly Clip[], { methods }: GroupRules): Finding {
  const known = Object.keys(methods).sort().join(', ');
  return {
    code: 'unreadable-value',
    severity: 'warn',
    subject: clips.map(({ id }) => id).sort(),
    measured: { value: name, unit: '' },
    allowed: { value: known, unit: '' },
    consequence: `Nobody knows the method "${name}", so the set may be held to the wrong list of passes.`,
    remedy: `Write one of ${known}, or add the method to the pipeline file.`,
    evidence: [from],
  };
}

function differ(first: NamedMethod, other: NamedMethod, clips: readonly Clip[], setUp: string): Finding {
  return {
    code: 'sources-disagree',
    severity: 'warn',
    subject: clips.map(({ id }) => id).sort(),
    measured: { value: other.name, unit: '' },
    allowed: { value: first.name, unit: '' },
    consequence: `Two methods are named for ${setUp}: it is judged as ${first.name}, and if it is ${other.name}, other passes are needed.`,
    remedy: `Put one of them right: ${first.name} or ${other.name}.`,
    evidence: [`${first.name}: ${first.from}`, `${other.name}: ${other.from}`],
  };
}
