/** Inputs that once made a parser slow, large or throw, by the name of its target. They run before anything is invented. */
export const SEEDS: Readonly<Record<string, readonly string[]>> = {
  // Each letter of a note without punctuation was read again for each role named in it.
  'role words': ['clean '.repeat(10_000), `${'a'.repeat(60_000)}.clean`],
  'for slate': [`${' '.repeat(60_000)}x`, 'for 27B '.repeat(8000), 'no '.repeat(20_000)],
  // The expression that skipped strings began anew at each quotation mark of a broken file.
  OpenTrackIO: [`[{"OpenTrackIO":"${'\\"'.repeat(30_000)}`, `{"a":NaN,"b":"${'\\"'.repeat(30_000)}\n`],
  EDL: [`001  A V C 01:00:00:00 01:00:01:00 01:00:00:00 01:00:01:00\n* LOC${' '.repeat(60_000)}x y\u2028z`, `001  A V C 01:00:00:00 01:00:01:00 01:00:00:00 01:00:01:00\nM2 m${'\t'.repeat(60_000)}\u0001`],
  'hash lists': ['</'.repeat(30_000)],
  headings: [`${'('.repeat(60_000)}x`, `a${' '.repeat(60_000)}!`],
  'ignore pattern': [`${' '.repeat(60_000)}x`, '['.repeat(60_000)],
  'timecode labels': ['14:22:3'.repeat(9000)],
  'inert cell': ['\t'.repeat(60_000), '\n'.repeat(60_000)],
  // Doubled keys were looked for by comparing each with each, and the place of every problem by walking the file.
  YAML: [
    Array.from({ length: 12_000 }, (_, index) => `k${index}: 1`).join('\n'), 'a: 1\n'.repeat(12_000), '['.repeat(8000), '{a: '.repeat(8000), '- '.repeat(8000), '"'.repeat(5000), 'a: !!binary x',
    `methods:\n${Array.from({ length: 8000 }, (_, index) => `  m${index}: {required: [lead]}`).join('\n')}`, '? [a, b]\n: 1', `a: &a [x,x,x,x,x,x,x,x]\n${'bcdefgh'.split('').map((name, index) => `${name}: &${name} [${Array(9).fill(`*${'abcdefg'[index]}`).join(',')}]`).join('\n')}`,
  ],
  corrections: [Array.from({ length: 6000 }, (_, index) => `- {kind: role, clip: c${index}.mov, role: clean, who: a, why: b}`).join('\n')],
};

/** Seeds of a target; none when nothing was ever found there. */
export function seedsOf(target: string): readonly string[] {
  return SEEDS[target] ?? [];
}
