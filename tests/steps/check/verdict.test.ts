import { describe, expect, it } from 'vitest';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { ShotRow } from '../../../src/core/material/shot-list.ts';
import { checkDay } from '../../../src/steps/check/check-day.ts';
import { slate } from '../../support/make-clips.ts';
import { checkRules, chosen, makeFullClip, makeLeadMatch, makeMatchedDay, makeSet } from '../../support/make-matched.ts';
import { judgeScene, said, setOf, soundScene, withPass } from './scene.ts';

const wrongStop = { lens: { ...makeFullClip(1, 'lead').lens, stop: chosen({ kind: 'T' as const, number: 8 }, 'T8') } };

/** Two leads and two swapped passes, the second pair at T8 beside T2.8, with one clean plate for both. */
function twoPairs(first: Partial<Clip>, second: Partial<Clip>): ReturnType<typeof makeSet> {
  const leads = [makeFullClip(1, 'lead', first), makeFullClip(2, 'lead', second)] as const;
  const passes = [makeFullClip(3, 'swapped'), makeFullClip(4, 'swapped', wrongStop)] as const;
  const clean = makeFullClip(5, 'clean');
  return makeSet({
    clips: [...leads, ...passes, clean],
    matches: [makeLeadMatch(leads[0], [passes[0], clean]), makeLeadMatch(leads[1], [passes[1], clean])],
  });
}

describe('which leads a set is judged by', () => {
  it('is all of them when none is circled', () => {
    const { verdict, countingLeads, findings } = setOf(checkDay(makeMatchedDay([twoPairs({}, {})]), checkRules()));
    expect([verdict, countingLeads.length, said(findings)]).toEqual(['no', 2, ['stop-differs stop']]);
  });

  it('is the circled ones when there are any; what differs beside another take is a note that says so', () => {
    const { verdict, countingLeads, findings } = setOf(checkDay(makeMatchedDay([twoPairs({ circled: true }, {})]), checkRules()));
    expect([verdict, countingLeads, said(findings)]).toEqual(['yes', [makeFullClip(1, 'lead').id], ['stop-differs note']]);
    expect(findings[0]?.consequence).toContain('A003C002 is not a take the set is judged by');
  });

  it('is the circled one too when it is the one with the fault', () => {
    expect(setOf(checkDay(makeMatchedDay([twoPairs({}, { circled: true })]), checkRules())).verdict).toBe('no');
  });

  it('takes in a take that the shot list uses although another is circled', () => {
    const row: ShotRow = { shot: 'SMR_0100', slate: '27B', take: 2, handles: {}, from: 'shots.csv line 2' };
    const { verdict, countingLeads } = setOf(checkDay(makeMatchedDay([twoPairs({ circled: true }, {})], { shots: [row] }), checkRules()));
    expect([verdict, countingLeads.length]).toEqual(['no', 2]);
  });
});

describe('a lead that lacks a pass which another lead has', () => {
  const leads = (circled: boolean): ReturnType<typeof makeSet> => {
    const first = makeFullClip(1, 'lead', circled ? { circled } : {});
    const second = makeFullClip(2, 'lead', circled ? { circled } : {});
    const pass = makeFullClip(3, 'swapped');
    const clean = makeFullClip(4, 'clean');
    return makeSet({ clips: [first, second, pass, clean], matches: [makeLeadMatch(first, [clean]), makeLeadMatch(second, [pass, clean])] });
  };

  it('is a stop when the crew chose that take', () => {
    expect(said(setOf(checkDay(makeMatchedDay([leads(true)]), checkRules())).findings)).toEqual(['missing-swapped-pass stop']);
  });

  it('is for a person to look at when nobody chose: the other may be used', () => {
    const { findings, missingRoles } = setOf(checkDay(makeMatchedDay([leads(false)]), checkRules()));
    expect([said(findings), missingRoles]).toEqual([['missing-swapped-pass warn'], []]);
  });
});

describe('a clip that cannot be judged', () => {
  const cutOff = (clip: Clip): Clip => ({
    ...clip,
    usable: false,
    complete: false,
    problems: [{ code: 'truncated-clip', severity: 'stop', file: clip.file, place: '', found: 'half', expected: 'all', remedy: 'copy it again' }],
  });

  it('leaves its pass missing when it was the only one', () => {
    const scene = soundScene();
    const { verdict, findings, missingRoles } = judgeScene({ ...scene, clean: cutOff(scene.clean) });
    expect([verdict, said(findings), missingRoles]).toEqual(['no', ['missing-clean-plate stop', 'truncated-clip stop'], ['clean']]);
  });

  it('is only a note when it is a lead take and another one is circled', () => {
    const scene = withPass(soundScene(), 'lead', { circled: true });
    expect(said(judgeScene({ ...scene, more: [cutOff(makeFullClip(4, 'lead'))] }).findings)).toEqual(['truncated-clip note']);
  });

  it('is a stop when it was circled, whatever else there is', () => {
    const more = [cutOff(makeFullClip(4, 'lead', { circled: true }))];
    expect(judgeScene({ ...soundScene(), more }).verdict).toBe('no');
  });

  it('stops a set of which it is all there is', () => {
    const set = makeSet({ clips: [cutOff(makeFullClip(1, 'lead'))] });
    const { verdict, missingRoles, findings } = setOf(checkDay(makeMatchedDay([set]), checkRules()));
    expect([verdict, missingRoles]).toEqual(['no', ['lead', 'swapped', 'clean']]);
    expect(said(findings)).toEqual(['missing-clean-plate stop', 'missing-lead-pass stop', 'missing-swapped-pass stop', 'truncated-clip stop']);
  });

  it('never goes without a finding, even if its reader gave no reason', () => {
    const more = [{ ...makeFullClip(4, 'swapped'), usable: false }];
    expect(said(judgeScene({ ...soundScene(), more }).findings)).toEqual(['unreadable-clip warn']);
  });
});

describe('the reason', () => {
  it('says what the set has when it is clear, and what nobody wrote down', () => {
    const scene = soundScene();
    expect(judgeScene(scene).reason).toBe('A003C001 has every pass that split needs, long enough and alike in all that is on record.');
    const { heightM: _height, ...rest } = scene.swapped.position;
    expect(judgeScene(withPass(scene, 'swapped', { position: rest })).reason).toBe(
      'A003C001 has every pass that split needs, long enough and alike in all that is on record (not on record for all of them: camera height).',
    );
  });

  it('names the worst kinds of fault, and how many', () => {
    const spoilt = withPass(withPass(soundScene(), 'swapped', { frames: 100, ...wrongStop }), 'clean', { ...wrongStop, frames: 3 });
    expect(judgeScene(spoilt).reason).toBe('Do not strike: clean plate short and stop differs (2 times).');
    expect(judgeScene(withPass(soundScene(), 'swapped', { frames: 100 })).reason).toBe('A person must look before the set is struck: short tail.');
  });

  it('is one sentence', () => {
    const spoilt = withPass(soundScene(), 'swapped', { ...wrongStop, exposure: { shutterDeg: chosen(90), ei: chosen(3200), whiteBalanceK: chosen(3200) }, picture: {}, position: { heightM: chosen(2) } });
    const { reason } = judgeScene(spoilt);
    expect(reason).toMatch(/^Do not strike: [^.]+ and 1 more\.$/);
  });
});

describe('what a set carries along', () => {
  it('lists findings worst first, then by code, then by subject', () => {
    const spoilt = withPass(withPass(soundScene(), 'swapped', { frames: 100, ...wrongStop }), 'clean', { ...wrongStop });
    const { findings } = judgeScene(spoilt);
    expect(findings.map(({ code, severity, subject }) => [severity, code, subject.at(-1)])).toEqual([
      ['stop', 'stop-differs', spoilt.swapped.id],
      ['stop', 'stop-differs', spoilt.clean.id],
      ['warn', 'short-tail', spoilt.swapped.id],
    ]);
  });

  it('leaves out the groups of checks that the method does not ask for', () => {
    const spoilt = withPass(soundScene(), 'swapped', { frames: 100, ...wrongStop });
    expect(said(judgeScene({ ...spoilt, method: { skipChecks: ['lens', 'coverage'] } }).findings)).toEqual([]);
  });

  it('names the corrections that speak of its clips, and no others', () => {
    const basis = { who: 'M. Okafor, DIT', why: 'asked the script supervisor' };
    const corrections = [
      { ...basis, id: '1', from: 'corrections.yaml, line 2', kind: 'role', clip: 'A003C002_261125_R7QK.mov', role: 'swapped' },
      { ...basis, id: '2', from: 'corrections.yaml, line 6', kind: 'role', clip: 'C002_261125_R7QK.mov', role: 'swapped' },
      { ...basis, id: '3', from: 'corrections.yaml, line 9', kind: 'sync', lead: 'B001.mov', clip: 'A003/A003C002_261125_R7QK.mov', offset: 4 },
    ] as const;
    const used = [{ id: '1', clips: [soundScene().swapped.id] }, { id: '2', clips: [] }, { id: '3', clips: ['B001.mov', soundScene().swapped.id] }];
    const scene = soundScene({ day: { correctionsUsed: used } });
    expect(judgeScene(scene, checkRules({ corrections })).correctionsUsed.map(({ id }) => id)).toEqual(['1', '3']);
  });

  it('does not take an ordinary shot of the day, which nobody calls a pass, for a set that lacks everything', () => {
    const clip = makeFullClip(1, 'unknown', { slate: slate('12F', 1) });
    const set = makeSet({ slate: '12F', clips: [clip], leftOver: [{ clip: clip.id, why: 'nothing tells which pass it is' }] });
    const { verdict, findings, missingRoles } = setOf(checkDay(makeMatchedDay([set]), checkRules()));
    expect([verdict, said(findings), missingRoles]).toEqual(['look', ['unmatched-pass warn'], []]);
  });
});
