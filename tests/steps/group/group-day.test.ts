import { describe, expect, it } from 'vitest';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { Correction } from '../../../src/core/material/correction.ts';
import type { GroupedDay, ReadDay } from '../../../src/core/material/day.ts';
import type { GroupRules } from '../../../src/core/material/group-rules.ts';
import { groupDay } from '../../../src/steps/group/group-day.ts';
import { groupRules, readClip, readDay, reportRow, sidecar } from '../../support/make-clips.ts';

function group(over: Partial<ReadDay>, rules: Partial<GroupRules> = {}): GroupedDay {
  return groupDay(readDay(over), groupRules(rules));
}

/** Sets as "27B-A: lead A003C001, swapped A003C002". */
function setsOf(day: GroupedDay): readonly string[] {
  return day.sets.map(({ id, clips }) => `${id}: ${clips.map((clip) => `${clip.role} ${clip.file.replace(/\.mov$/u, '')}`).join(', ')}`);
}

function clipOf(day: GroupedDay, file: string): Clip {
  const clip = day.clips.find((each) => each.file === file);
  if (clip === undefined) throw new Error(`no clip ${file}`);
  return clip;
}

const THREE = ['A003C001.mov', 'A003C002.mov', 'A003C003.mov'].map((file) => readClip(file));
const BASIS = { id: 'c1', who: 'R. Amsel', why: 'board misread', from: 'corrections.yaml, line 12' };

describe('the three ways crews slate passes (common practice, no source)', () => {
  it('takes run on under one slate and the log names the pass', () => {
    const notes = (['lead', 'swapped', 'clean plate'] as const).map((pass, index) =>
      reportRow(index + 2, { file: THREE[index]?.file ?? '', slate: '27B', take: String(index + 1), pass }),
    );
    expect(setsOf(group({ clips: THREE, notes }))).toEqual(['27B-A: lead A003C001, swapped A003C002, clean A003C003']);
  });

  it('a suffix on the slate names the pass', () => {
    const notes = ['27B-1', '27B-SW-1', '27B-CP-1'].map((slate, index) => reportRow(index + 2, { file: THREE[index]?.file ?? '', slate }));
    const day = group({ clips: THREE, notes });
    expect(setsOf(day)).toEqual(['27B-A: lead A003C001, swapped A003C002, clean A003C003']);
    expect(day.sets[0]?.clips.map(({ roleConfidence }) => roleConfidence)).toEqual([0.7, 0.9, 0.9]);
    expect(clipOf(day, 'A003C001.mov').roleEvidence[0]?.words).toBe('slated 27B without a mark, where 27B-SW-1 is marked: the lead pass');
    expect(clipOf(day, 'A003C002.mov').roleEvidence[0]).toMatchObject({ kind: 'slate', words: 'report.csv, line 3, column slate says "27B-SW-1"' });
  });

  it('a suffix on the clean plate alone says nothing of the others', () => {
    const notes = ['27B-1', '27B-2', '27B-CP-1'].map((slate, index) => reportRow(index + 2, { file: THREE[index]?.file ?? '', slate }));
    expect(group({ clips: THREE, notes }).sets[0]?.clips.map(({ roleConfidence }) => roleConfidence)).toEqual([0.3, 0.3, 0.9]);
  });

  it('a set-up letter of its own, with a note that says what it is for', () => {
    const notes = [
      reportRow(2, { file: 'A003C001.mov', slate: '27B', take: '1', pass: 'lead' }),
      reportRow(3, { file: 'A003C002.mov', slate: '27C', take: '1', notes: 'Swap pass, for 27B' }),
      reportRow(4, { file: 'A003C003.mov', slate: '27D', take: '1', pass: 'clean', forSlate: '27B' }),
    ];
    const day = group({ clips: THREE, notes });
    expect(setsOf(day)).toEqual(['27B-A: lead A003C001, swapped A003C002, clean A003C003']);
    expect(clipOf(day, 'A003C002.mov').forSlate).toMatchObject({ scene: '27', setUp: 'B' });
    expect(day.unplaced).toEqual([]);
  });

  it('such a pass may lie in the folder of the set-up it is for', () => {
    const notes = [reportRow(2, { file: 'A003C001', slate: '27C-1', pass: 'swapped', forSlate: '27B' }), reportRow(3, { file: 'A003C002', slate: '27D-1', pass: 'lead' })];
    const day = group({ clips: [readClip('27B/A003C001.mov'), readClip('27B/A003C002.mov')], notes });
    expect(clipOf(day, '27B/A003C001.mov').disagreements).toEqual([]);
    expect(clipOf(day, '27B/A003C002.mov').disagreements).toMatchObject([{ field: 'slate', chosen: { raw: '27D-1' }, other: { raw: '27B' } }]);
  });

  it('a note on one take of such a set-up holds for its other takes, and says so', () => {
    const clips = [...THREE, readClip('A003C004.mov')];
    const notes = [
      reportRow(2, { file: 'A003C001.mov', slate: '27B', take: '1', pass: 'lead' }),
      reportRow(3, { file: 'A003C002.mov', slate: '27C', take: '1', notes: 'swap for 27B' }),
      reportRow(4, { file: 'A003C003.mov', slate: '27C', take: '2', circled: true }),
      reportRow(5, { file: 'A003C004.mov', slate: '27B', take: '2', pass: 'clean' }),
    ];
    const day = group({ clips, notes });
    expect(setsOf(day)).toEqual(['27B-A: lead A003C001, swapped A003C002, swapped A003C003, clean A003C004']);
    expect(clipOf(day, 'A003C003.mov').roleEvidence[0]?.words).toContain('another take of 27C is for 27B');
  });
});

describe('what is no plate set', () => {
  it('is an ordinary set-up of a day on which others are called plate sets', () => {
    const clips = [...THREE, readClip('A003C004.mov', { slate: '31A-1' }), readClip('A003C005.mov', { slate: '31A-2', notes: 'lead actor late' })];
    const threeTakes = [6, 7, 8].map((clip) => readClip(`A003C00${clip}.mov`, { slate: `32A-${clip}` }));
    const notes = THREE.map(({ file }, index) => reportRow(index + 2, { file, slate: `27B-${index + 1}`, pass: ['lead', 'swap', 'clean'][index] ?? '' }));
    const day = group({ clips: [...clips, ...threeTakes], notes });
    expect(day.sets.map(({ id }) => id)).toEqual(['27B-A']);
    expect(day.unplaced.map(({ clip, ordinary }) => [clip, ordinary])).toEqual([4, 5, 6, 7, 8].map((clip) => [`A003C00${clip}.mov`, true]));
    expect(day.unplaced[0]?.why).toContain('no sign of a plate set');
  });

  it('is a set-up with a colour chart: charts are shot everywhere', () => {
    const day = group({ clips: [readClip('A003C001.mov', { slate: '31A-1' }), readClip('A003C002.mov', { slate: '31A-2', notes: 'reference' })] });
    expect(day.sets).toEqual([]);
  });

  it('is one that the shot list names: that is a sign', () => {
    const clips = [readClip('A003C001.mov', { slate: '31A-1' }), readClip('A003C002.mov', { slate: '31B-1' })];
    const shots = [{ shot: 'TF_0010', slate: '31A', handles: {}, from: 'shots.csv line 2' }];
    expect(group({ clips, shots }).sets.map(({ id }) => id)).toEqual(['31A-A']);
  });
});

describe('shooting order', () => {
  it('names the passes of a silent day only where the takes are as many as the passes, and only as a guess', () => {
    const clips = [1, 2, 3].map((take) => readClip(`A003C00${take}.mov`, { slate: `27B-${take}` }));
    const day = group({ clips: [...clips, readClip('A003C004.mov', { slate: '31A-1' }), readClip('A003C005.mov', { slate: '31A-2' })] });
    expect(setsOf(day)).toEqual(['27B-A: lead A003C001, swapped A003C002, clean A003C003']);
    expect(day.sets[0]?.clips.every(({ roleConfidence }) => roleConfidence < 0.5)).toBe(true);
    expect(day.unplaced.map(({ clip }) => clip)).toEqual(['A003C004.mov', 'A003C005.mov']);
  });

  it('fills the one gap between a lead and a clean plate', () => {
    const clips = [1, 2, 3].map((take) => readClip(`A003C00${take}.mov`, { slate: `27B-${take}`, ...(take === 2 ? {} : { pass: take === 1 ? 'lead' : 'clean' }) }));
    expect(setsOf(group({ clips }))).toEqual(['27B-A: lead A003C001, swapped A003C002, clean A003C003']);
  });

  it('leaves what could be two things unknown', () => {
    const clips = [1, 2].map((take) => readClip(`A003C00${take}.mov`, { slate: `27B-${take}`, ...(take === 1 ? { pass: 'lead' } : {}) }));
    expect(setsOf(group({ clips }))).toEqual(['27B-A: lead A003C001, unknown A003C002']);
  });
});

describe('roles', () => {
  function roleOf(rows: readonly Parameters<typeof reportRow>[1][]): Clip {
    const notes = rows.map((facts, index) => reportRow(2, { file: 'A003C001.mov', slate: '27B-1', ...facts }, `report-${index}.csv`));
    return clipOf(group({ clips: [readClip('A003C001.mov')], notes }), 'A003C001.mov');
  }

  it.each([
    ['Clean plate, nobody', 'clean'],
    ['side B', 'swapped'],
    ['SW', 'swapped'],
    ['hero pass', 'lead'],
    ['Swapped passes', 'swapped'],
    ['swap pass, sync to lead', 'swapped'],
    ['clean plate, same as lead', 'clean'],
    ['swap pass - matches the lead take', 'swapped'],
    ['no clean plate needed', 'unknown'],
    ['clean plate not needed', 'unknown'],
    ['no swapped pass or clean plate', 'unknown'],
    ['still need clean plate', 'unknown'],
    ['clean plate to follow', 'unknown'],
    ['match to lead', 'unknown'],
    ['focus marks from the swap', 'unknown'],
    ['plates for element', 'unknown'],
    ['unclean lens, elements of rain', 'element'],
    ['cleaned the lens', 'unknown'],
    ['misleading', 'unknown'],
  ])('reads a note "%s" as %s', (notes, role) => {
    expect(roleOf([{ notes }]).role).toBe(role);
  });

  it('takes the log over a note and keeps both', () => {
    const clip = roleOf([{ pass: 'lead', notes: 'clean plate' }]);
    expect([clip.role, clip.roleConfidence]).toEqual(['lead', 0.5]);
    expect(clip.roleEvidence.map(({ role, kind }) => `${kind} ${role}`)).toEqual(['log lead', 'note clean']);
  });

  it('says unknown when two logs contradict each other', () => {
    expect(roleOf([{ pass: 'lead' }, { pass: 'swapped' }]).role).toBe('unknown');
  });

  it('tells of a pass column that names no role', () => {
    const clip = roleOf([{ pass: 'B-side 2' }]);
    expect(clip.problems).toMatchObject([{ code: 'unreadable-value', found: 'B-side 2', place: 'line 2, column pass' }]);
  });

  it('a correction beats everything, and is counted as used', () => {
    const corrections: Correction[] = [{ ...BASIS, kind: 'role', clip: 'A003C001.mov', role: 'swapped' }];
    const notes = [reportRow(2, { file: 'A003C001.mov', slate: '27B-1', pass: 'lead' })];
    const day = group({ clips: [readClip('A003C001.mov')], notes }, { corrections });
    expect(clipOf(day, 'A003C001.mov')).toMatchObject({ role: 'swapped', roleConfidence: 1 });
    expect(day.correctionsUsed).toEqual([{ id: 'c1', clips: ['A003C001.mov'] }]);
  });

  it('goes by folder and file names when nothing else speaks', () => {
    const clips = ['27B/lead/A003C001.mov', '27B/swapped/A003C002.mov', '27B/A003C003_clean.mov'].map((file) => readClip(file));
    expect(setsOf(group({ clips }))).toEqual(['27B-A: lead 27B/lead/A003C001, swapped 27B/swapped/A003C002, clean 27B/A003C003_clean']);
  });

  it('holds for the same take on another camera, and says so', () => {
    const clips = [readClip('A003C001.mov', { slate: '27B-1' }), readClip('B003C001.mov', { slate: '27B-1' })];
    const day = group({ clips, notes: [reportRow(2, { file: 'A003C001.mov', pass: 'swapped' })] });
    expect(setsOf(day)).toEqual(['27B-A: swapped A003C001', '27B-B: swapped B003C001']);
    expect(clipOf(day, 'B003C001.mov').roleEvidence[0]?.words).toContain('the same take on camera A');
  });
});

describe('corrections', () => {
  it('fix a slate', () => {
    const corrections: Correction[] = [{ ...BASIS, kind: 'slate', clip: 'A003C003.mov', slate: '27B-3' }];
    const notes = THREE.map(({ file }, index) => reportRow(index + 2, { file, slate: index === 2 ? '72B-3' : `27B-${index + 1}`, pass: ['lead', 'swapped', 'clean'][index] ?? '' }));
    const day = group({ clips: THREE, notes }, { corrections });
    expect(setsOf(day)).toEqual(['27B-A: lead A003C001, swapped A003C002, clean A003C003']);
    const { disagreements, statements } = clipOf(day, 'A003C003.mov');
    expect(disagreements).toEqual([]);
    expect(statements.filter(({ field }) => field === 'slate').map(({ raw }) => raw)).toEqual(['27B-3', '72B-3']);
  });

  it('that name no clip, or several, are findings and not silence', () => {
    const corrections: Correction[] = [
      { ...BASIS, kind: 'role', clip: 'A009C009.mov', role: 'lead' },
      { ...BASIS, id: 'c2', kind: 'role', clip: 'A003C001.mov', role: 'lead' },
    ];
    const day = group({ clips: [readClip('day1/A003C001.mov'), readClip('day2/A003C001.mov')] }, { corrections });
    expect(day.findings.map(({ code, subject, evidence }) => [code, subject, evidence])).toEqual([
      ['unused-row', [], ['corrections.yaml, line 12: R. Amsel, board misread']],
      ['unused-row', ['day1/A003C001.mov', 'day2/A003C001.mov'], ['corrections.yaml, line 12: R. Amsel, board misread']],
    ]);
    expect(day.correctionsUsed).toEqual([{ id: 'c1', clips: [] }, { id: 'c2', clips: [] }]);
  });
});

describe('methods', () => {
  const clips = [readClip('A003C001.mov', { slate: '27B-1', pass: 'lead' })];
  const shot = { shot: 'TF_0010', slate: '27B', handles: {}, method: 'Moco', from: 'shots.csv line 2' };

  it('come from the shot list first', () => {
    const notes = [reportRow(2, { file: 'A003C001.mov', method: 'handheld', notes: 'split' })];
    const day = group({ clips, notes, shots: [shot] });
    expect(day.sets[0]).toMatchObject({ method: { name: 'moco' }, methodFrom: 'shot list, shots.csv line 2' });
    expect(day.findings).toMatchObject([{ code: 'sources-disagree', severity: 'warn' }]);
  });

  it('then from the log, then from a note, then by default', () => {
    const log = group({ clips, notes: [reportRow(2, { file: 'A003C001.mov', method: 'screen element' })] });
    expect(log.sets[0]).toMatchObject({ method: { name: 'screen-element' }, methodFrom: 'report.csv, line 2, column method' });
    const note = group({ clips, notes: [reportRow(2, { file: 'A003C001.mov', notes: 'moco, pass 1' })] });
    expect(note.sets[0]).toMatchObject({ method: { name: 'moco' }, methodFrom: 'note of A003C001.mov: "moco, pass 1"' });
    expect(group({ clips }).sets[0]).toMatchObject({ method: { name: 'split' }, methodFrom: 'default' });
  });

  it('that nobody knows are a finding that names the known ones', () => {
    const day = group({ clips, shots: [{ ...shot, method: 'twinning' }] });
    expect(day.sets[0]?.methodFrom).toBe('default');
    expect(day.findings).toMatchObject([{ code: 'unreadable-value', measured: { value: 'twinning' }, evidence: ['shot list, shots.csv line 2'] }]);
  });
});

describe('cameras, rolls, days and broken clips', () => {
  it('keep the clips of one set-up together over rolls and days, first recorded first', () => {
    const clips = [
      readClip('A010C001.mov', { slate: '27B-2', pass: 'swapped', date: '2026-11-26' }),
      readClip('A009C007.mov', { slate: '27B-1', pass: 'lead', date: '2026-11-25' }),
    ];
    expect(setsOf(group({ clips }))).toEqual(['27B-A: lead A009C007, swapped A010C001']);
  });

  it('make one set of each camera, and put a clip without a letter to the only one', () => {
    const clips = [
      readClip('A003C001.mov', { slate: '27B-1', pass: 'lead' }),
      readClip('swap.mov', { slate: '27B-2', pass: 'swapped' }),
      readClip('B003C001.mov', { slate: '28A-1', pass: 'lead' }),
      readClip('A003C002.mov', { slate: '28A-1', pass: 'lead' }),
    ];
    expect(group({ clips }).sets.map(({ id, clips: inSet }) => [id, inSet.length])).toEqual([['27B-A', 2], ['28A-A', 1], ['28A-B', 1]]);
  });

  it('take a reference another camera shot for the set-up, but not when several cameras shot it', () => {
    const lead = (file: string) => readClip(file, { slate: '27B-1', pass: 'lead' });
    const reference = readClip('X001C001.mov', { slate: '99A-1', pass: 'reference', forSlate: '27B' });
    expect(setsOf(group({ clips: [lead('A003C001.mov'), reference] }))).toEqual(['27B-A: lead A003C001, reference X001C001']);
    const day = group({ clips: [lead('A003C001.mov'), lead('B003C001.mov'), reference] });
    expect(day.unplaced).toEqual([{ clip: 'X001C001.mov', why: 'it is for 27B, but camera X shot it and 27B was shot on A, B' }]);
  });

  it('list clips that cannot be used: in their set when the slate is known, else unplaced with the reason', () => {
    const broken = { usable: false, complete: false, completeness: 'the index is missing' } as const;
    const clips = [readClip('A003C001.mov', { slate: '27B-1', pass: 'lead' }), readClip('A003C000.mov', { slate: '27B-2', pass: 'clean' }, broken), readClip('A003C003.mov', {}, broken)];
    const day = group({ clips });
    expect(setsOf(day)).toEqual(['27B-A: lead A003C001, clean A003C000']);
    expect(day.unplaced).toEqual([{ clip: 'A003C003.mov', why: 'it cannot be judged (the index is missing), and nothing names its slate' }]);
  });
});

describe('a lead that only a note states', () => {
  const noted = (notes: string): GroupedDay => group({ clips: [readClip('A003C001.mov', { slate: '27B-1', pass: 'swapped' }), readClip('A003C005.mov', { slate: '31A-1', notes })] });

  it.each(['hero pass as Mia', 'Lead - Anna as MIA  *CIRCLE*', 'LEAD', 'good one / lead', 'lead take, second half soft', 'Lead (Mia)', 'first, lead pass', 'lead as Mia', 'hero pass, actor late'])(
    '"%s" makes a plate set of its set-up',
    (notes) => {
      const day = noted(notes);
      expect(setsOf(day)).toContain('31A-A: lead A003C005');
      expect(day.unplaced).toEqual([]);
    },
  );

  it.each(['lead actor late', 'Lead: late', 'lead late', 'the lead fluffed it', 'lead car stalls', 'Lead - make-up check', 'lead-in music', 'leads off mark'])(
    '"%s" makes none, and is not denied',
    (notes) => {
      const day = noted(notes);
      expect(day.unplaced).toMatchObject([{ clip: 'A003C005.mov', ordinary: true, why: expect.stringMatching(/says "leads?", which alone makes 31A no plate set: it may speak of a person/) }]);
    },
  );

  it.each(['no lead pass here', 'lead pass to follow', 'match to lead', 'waiting for lead'])('"%s" states none', (notes) => {
    expect(noted(notes).unplaced).toMatchObject([{ clip: 'A003C005.mov', ordinary: true, why: expect.stringContaining('no sign of a plate set') }]);
  });
});

describe('notes without a clip', () => {
  it('are one finding for the rows of a report, and one for each sidecar', () => {
    const notes = [
      reportRow(2, { file: 'A003C001.mov', slate: '27B-1', pass: 'lead' }),
      reportRow(3, { file: 'A099C001.mov' }),
      reportRow(12, { roll: 'A099', clip: 'C002' }),
      sidecar('A003C001.xml', { lens: 'Prime 35' }),
      sidecar('A099C003.xml', { lens: 'Prime 35' }),
    ];
    const day = group({ clips: [readClip('A003C001.mov')], notes });
    expect(day.findings.map(({ code, severity, evidence }) => [code, severity, evidence])).toEqual([
      ['unused-sidecar', 'warn', ['A099C003.xml']],
      ['unused-row', 'warn', ['report.csv, line 3: file A099C001.mov', 'report.csv, line 12: camera A, roll A099, clip C002']],
    ]);
    expect(clipOf(day, 'A003C001.mov').lens.model?.value).toBe('Prime 35');
  });

  it('are worth a look when no row of the report is used', () => {
    const day = group({ clips: [readClip('A003C001.mov')], notes: [reportRow(2, { file: 'A099C001.mov' })] });
    expect(day.findings).toMatchObject([{ code: 'unused-row', severity: 'warn' }]);
  });

  it('are a note when they are of another day, or name nothing, as a line of totals does', () => {
    const clips = [readClip('A003C001.mov', { date: '2026-11-25' })];
    const notes = [reportRow(2, { file: 'A003C001.mov', slate: '27B-1' }), reportRow(3, { file: 'A004C001.mov', date: '2026-11-26' }), reportRow(4, { clip: 'TOTAL', roll: '13 clips' })];
    const day = group({ clips, notes });
    expect(day.findings).toMatchObject([{ code: 'unused-row', severity: 'note', measured: { value: 2 } }]);
    expect(day.unusedRows).toBeUndefined();
  });

  it('tell of a file that could not be read', () => {
    const problems = [{ code: 'unreadable-file', severity: 'warn', file: 'log.csv', place: 'line 1', found: 'no heading', expected: 'headings', remedy: 'add them' }] as const;
    expect(group({ problems }).findings).toMatchObject([{ code: 'unreadable-file', evidence: ['log.csv, line 1'] }]);
  });
});
