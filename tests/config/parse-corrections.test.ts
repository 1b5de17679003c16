import { describe, expect, it } from 'vitest';
import { parseCorrections } from '../../src/config/parse-corrections.ts';

const BASIS = 'who: R. Amsel, why: board misread';

describe('corrections', () => {
  it('are read, each with who, why and the line it stands on', () => {
    const { corrections, problems } = parseCorrections(
      [
        '# kept by the data wrangler',
        `- { kind: slate, clip: A003C012_261125_R7QK.mov, slate: 27B-3, ${BASIS} }`,
        `- { kind: role, clip: a/b.mov, role: clean, ${BASIS}, id: the-empty-one }`,
        `- { kind: confirm, lead: l.mov, clip: s.mov, role: swapped, ${BASIS} }`,
        `- { kind: confirm, lead: l.mov, clip: c.mov, ${BASIS} }`,
        `- { kind: forbid, lead: l.mov, clip: t.mov, ${BASIS} }`,
        `- { kind: sync, lead: l.mov, clip: s.mov, offset: -12, ${BASIS} }`,
      ].join('\n'),
      'corrections.yaml',
    );
    expect(problems).toEqual([]);
    const said = (line: number, id = `corrections.yaml, line ${line}`): object => ({ who: 'R. Amsel', why: 'board misread', id, from: `corrections.yaml, line ${line}` });
    expect(corrections).toStrictEqual([
      { kind: 'slate', clip: 'A003C012_261125_R7QK.mov', slate: '27B-3', ...said(2) },
      { kind: 'role', clip: 'a/b.mov', role: 'clean', ...said(3, 'the-empty-one') },
      { kind: 'confirm', lead: 'l.mov', clip: 's.mov', role: 'swapped', ...said(4) },
      { kind: 'confirm', lead: 'l.mov', clip: 'c.mov', ...said(5) },
      { kind: 'forbid', lead: 'l.mov', clip: 't.mov', ...said(6) },
      { kind: 'sync', lead: 'l.mov', clip: 's.mov', offset: -12, ...said(7) },
    ]);
  });

  it('that cannot be read are problems that name file, line and column, and the others still count', () => {
    const { corrections, problems } = parseCorrections(
      [
        `- { kind: role, clip: a.mov, role: clean, ${BASIS} }`,
        '- { kind: role, clip: b.mov, role: clean, who: R. Amsel }',
        `- { kind: role, clip: c.mov, role: cleaner, ${BASIS} }`,
        `- { kind: rol, clip: d.mov, role: clean, ${BASIS} }`,
        `- { kind: sync, lead: l.mov, clip: s.mov, offset: 1.5, ${BASIS} }`,
        `- { kind: forbid, lead: l.mov, clip: s.mov, role: clean, ${BASIS} }`,
        '- just words',
        `- { kind: role, clip: e.mov, role: element, ${BASIS} }`,
      ].join('\n'),
      'fixes/corrections.yaml',
    );
    expect(corrections.map((correction) => 'clip' in correction && correction.clip)).toEqual(['a.mov', 'e.mov']);
    expect(problems.map(({ place, found, expected }) => `${place}: ${found}; ${expected}`)).toEqual([
      'line 2, column 3: 2.why: nothing; the reason',
      'line 3, column 36: 3.role: "cleaner"; one of lead, swapped, clean, reference, element',
      'line 4, column 11: 4.kind: "rol"; slate, role, confirm, forbid or sync',
      'line 5, column 51: 5.offset: 1.5; whole frames: frame of the clip = frame of the lead + offset',
      'line 6, column 45: 6.role: an unknown key; one of kind, id, who, why, lead, clip',
      'line 7, column 3: 7: "just words"; a map with kind, clip, who and why',
    ]);
    expect(new Set(problems.map(({ code, severity, file }) => `${code} ${severity} ${file}`))).toEqual(new Set(['unreadable-value warn fixes/corrections.yaml']));
  });

  it('that answer one question twice are a problem, and the earlier one is used', () => {
    const { corrections, problems } = parseCorrections(
      [
        `- { kind: confirm, lead: l.mov, clip: s.mov, ${BASIS}, id: one }`,
        `- { kind: forbid, lead: l.mov, clip: s.mov, ${BASIS} }`,
        `- { kind: slate, clip: l.mov, slate: 27B-3, ${BASIS} }`,
        `- { kind: slate, clip: l.mov, slate: 27C-3, ${BASIS} }`,
        `- { kind: role, clip: l.mov, role: lead, ${BASIS}, id: one }`,
      ].join('\n'),
      'c.yaml',
    );
    expect(corrections.map(({ kind }) => kind)).toEqual(['confirm', 'slate']);
    expect(problems.map(({ place, found }) => `${place}: ${found}`)).toEqual([
      'line 2, column 3: 2: a second answer to what c.yaml, line 1 answers',
      'line 4, column 3: 4: a second answer to what c.yaml, line 3 answers',
      'line 5, column 3: 5: the id "one" again',
    ]);
  });

  it.each([
    ['', 0],
    ['# nothing\n', 0],
    ['[]', 0],
    ['corrections: []', 1],
    ['- [', 1],
  ])('of a file holding %j bring %i problems', (text, count) => {
    const { corrections, problems } = parseCorrections(text, 'c.yaml');
    expect(corrections).toEqual([]);
    expect(problems).toHaveLength(count);
  });

  it('of a file that is no YAML are one problem of the whole file', () => {
    expect(parseCorrections('a: b: c\n', 'c.yaml').problems[0]).toMatchObject({ code: 'unreadable-file', file: 'c.yaml', place: 'line 1, column 4' });
  });
});
