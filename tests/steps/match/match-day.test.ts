import { describe, expect, it } from 'vitest';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { GroupedDay } from '../../../src/core/material/day.ts';
import type { LeadMatch, PassMatch, PlateSet } from '../../../src/core/material/plate-set.ts';
import type { MatchRules } from '../../../src/core/matching/match-rules.ts';
import { matchDay } from '../../../src/steps/match/match-day.ts';
import { method, slate } from '../../support/make-clips.ts';
import type { PassFacts } from '../../support/make-sets.ts';
import { chosen, groupedDay, matchRules, pairCorrection, pass, plateSet } from '../../support/make-sets.ts';

/** Takes of set-up 27B, five minutes apart in the order given: "L" lead, "S" swapped, "C" clean, "E" element, "R" reference, "?" unknown; "*" circled. */
function takes(list: string, over: Readonly<Record<string, Partial<Clip>>> = {}): readonly Clip[] {
  const roles = { L: 'lead', S: 'swapped', C: 'clean', E: 'element', R: 'reference', '?': 'unknown' } as const;
  return list.split(' ').map((word, index) => {
    const role = roles[(word[0] ?? '?') as keyof typeof roles];
    const facts: PassFacts = { role, take: index + 1, at: `10:${String(5 * index).padStart(2, '0')}:00:00` };
    return pass({ ...facts, over: { ...(word.endsWith('*') ? { circled: true } : {}), ...over[word] } });
  });
}

function matchOne(clips: readonly Clip[], rules: Partial<MatchRules> = {}, set: Partial<PlateSet> = {}, day: Partial<GroupedDay> = {}) {
  const matched = matchDay(groupedDay([plateSet(clips, set)], day), matchRules(rules)).sets[0];
  if (matched === undefined) throw new Error('the set is gone');
  const takeOf = (id: string | undefined): number | undefined => clips.find((clip) => clip.id === id)?.slate?.take;
  const named = (match: LeadMatch | undefined, role: 'swapped' | 'clean'): number | undefined => takeOf(match?.[role]?.clip);
  const of = (lead: number): LeadMatch | undefined => matched.matches.find((match) => takeOf(match.lead) === lead);
  return {
    ...matched,
    of,
    swapped: (lead: number) => named(of(lead), 'swapped'),
    clean: (lead: number) => named(of(lead), 'clean'),
    left: matched.leftOver.map(({ clip }) => takeOf(clip)),
  };
}

/** Whether the check step will call this match ambiguous: a margin under one point. */
const isAmbiguous = (match: PassMatch | undefined): boolean => match?.margin !== undefined && match.margin < 1;

describe('matching within a set', () => {
  it('gives every lead take its swapped pass and clean plate, and each pass may serve several', () => {
    const set = matchOne(takes('L L* S* C'));
    expect([set.swapped(1), set.clean(1), set.swapped(2), set.clean(2)]).toEqual([3, 4, 3, 4]);
    expect(set.leftOver).toEqual([]);
  });

  it('prefers the circled take to a nearer one, clearly', () => {
    const set = matchOne(takes('L* S S* C'));
    expect(set.swapped(1)).toBe(3);
    expect(set.of(1)?.swapped).toMatchObject({ runnerUp: { cost: expect.any(Number) }, margin: expect.any(Number), confirmed: false });
    expect(isAmbiguous(set.of(1)?.swapped)).toBe(false);
    expect(set.leftOver).toEqual([{ clip: 'A003C002_27B.mov', why: 'another swapped pass was chosen for every lead take: 27B-3 (A003C003_27B)' }]);
  });

  it.each(['L* S S C', 'L* S* S* C'])('calls two swapped takes between which nothing decides ambiguous: %s', (list) => {
    const set = matchOne(takes(list));
    expect(set.swapped(1)).toBe(2);
    expect(isAmbiguous(set.of(1)?.swapped)).toBe(true);
  });

  it('stays ambiguous when one of two uncircled swapped takes merely lacks a few frames of the lead take or of the handles', () => {
    const set = matchOne(takes('L* S1 S2 C', { S1: { frames: 236 } }));
    expect(set.swapped(1)).toBe(3);
    expect(isAmbiguous(set.of(1)?.swapped)).toBe(true);
  });

  it('is not ambiguous when one of two swapped takes does not hold the cut range', () => {
    const shots = [{ shot: 'TW_010', slate: '27B', take: 1, cutIn: '10:00:02:00', cutOut: '10:00:08:00', handles: {}, from: 'shots.csv line 2' }];
    const set = matchOne(takes('L* S1 S2 C', { S1: { frames: 180 } }), {}, {}, { shots });
    expect(set.swapped(1)).toBe(3);
    expect(isAmbiguous(set.of(1)?.swapped)).toBe(false);
  });

  it.each([
    ['another lens', { lens: { serial: chosen('4712') } }],
    ['another focal length', { lens: { focalLengthMm: chosen(50) } }],
    ['another raster', { picture: { raster: chosen({ width: 1920, height: 1080 }) } }],
  ])('is not ambiguous when one of two swapped takes has %s', (_name, over) => {
    const set = matchOne(takes('L* S1 S2 C', { S1: over }));
    expect(set.swapped(1)).toBe(3);
    expect(isAmbiguous(set.of(1)?.swapped)).toBe(false);
  });

  it('pairs leads and swapped passes shot in turn, and is sure of it', () => {
    const set = matchOne(takes('L S L S L S C'));
    expect([1, 3, 5].map((lead) => set.swapped(lead))).toEqual([2, 4, 6]);
    expect([1, 3, 5].map((lead) => isAmbiguous(set.of(lead)?.swapped))).toEqual([false, false, false]);
    expect(set.clean(1)).toBe(7);
  });

  it('raises no alarm over two clean plates of which either would do, but names the other', () => {
    const set = matchOne(takes('L* S* C C'));
    expect(set.clean(1)).toBe(3);
    expect(set.of(1)?.clean?.runnerUp?.clip).toBe('A003C004_27B.mov');
    expect(set.of(1)?.clean).not.toHaveProperty('margin');
  });

  it('does not take a copy of the chosen clip for another take', () => {
    const clips = takes('L* S C');
    const [, swapped] = clips;
    if (swapped === undefined) throw new Error('no swapped pass');
    const copy = { ...swapped, id: `backup/${swapped.file}`, file: `backup/${swapped.file}` };
    const set = matchOne([...clips, copy]);
    expect(set.swapped(1)).toBe(2);
    expect(set.of(1)?.swapped).not.toHaveProperty('runnerUp');
    expect(set.leftOver).toEqual([{ clip: copy.id, why: 'a copy of 27B-2 (A003C002_27B), which was chosen' }]);
    expect(set.of(1)?.swapped?.terms.at(-1)?.words).toBe('recorded 5 min after the lead');
  });

  it('states the margin where one clean plate is worse', () => {
    const set = matchOne(takes('L* S* C1 C2', { C1: { frames: 10 } }));
    expect(set.clean(1)).toBe(4);
    expect(set.of(1)?.clean?.margin).toBeGreaterThan(1);
  });

  it('follows a slate that names its take, before circled takes', () => {
    const set = matchOne(takes('L L S3 S* C', { S3: { forSlate: slate('27B', 1) } }));
    expect([set.swapped(1), set.swapped(2)]).toEqual([3, 4]);
  });

  it('puts a pick-up beside a pick-up', () => {
    const pickUp = (take: number): Partial<Clip> => ({ slate: slate('27B', take, { pickUp: true }) });
    const set = matchOne(takes('L1 L2 S3 S4 C', { L2: pickUp(2), S4: pickUp(4) }));
    expect([set.swapped(1), set.swapped(2)]).toEqual([3, 4]);
  });

  it('lists all elements and references beside every lead, elements that were circled alone', () => {
    const set = matchOne(takes('L L C E E* R R'));
    for (const lead of [1, 2]) {
      expect(set.of(lead)?.elements.map(({ clip }) => clip)).toEqual(['A003C005_27B.mov']);
      expect(set.of(lead)?.references.map(({ clip }) => clip).toSorted()).toEqual(['A003C006_27B.mov', 'A003C007_27B.mov']);
    }
    expect(set.left).toEqual([4]);
    expect(matchOne(takes('L C E E')).of(1)?.elements).toHaveLength(2);
  });

  it('matches nothing unusable, and does not list it as left over', () => {
    const set = matchOne(takes('L S1 S2 C', { S1: { usable: false } }));
    expect(set.swapped(1)).toBe(3);
    expect(set.left).toEqual([]);
    expect(matchOne(takes('L1 L2 S C', { L1: { usable: false } })).matches.map(({ lead }) => lead)).toEqual(['A003C002_27B.mov']);
  });

  it('says why a pass stands beside no lead', () => {
    expect(matchOne(takes('S C')).leftOver.map(({ why }) => why)).toEqual(Array(2).fill('27B on camera A has no lead take that can be used'));
    expect(matchOne(takes('L S C ?')).leftOver).toEqual([{ clip: 'A003C004_27B.mov', why: 'nothing tells which pass it is' }]);
  });

  it('keeps a swapped pass that cannot be synced, and says so', () => {
    const set = matchOne(takes('L S1 C', { S1: { rate: { num: 25, den: 1 } } }));
    expect(set.of(1)?.swapped?.sync.confidence).toBe(0);
  });
});

describe('corrections', () => {
  const [L1, S2, S3, C4] = ['A003C001_27B.mov', 'A003C002_27B.mov', 'A003C003_27B.mov', 'A003C004_27B.mov'];

  it('a confirmed pass beats a circled one and leaves nothing ambiguous', () => {
    const set = matchOne(takes('L* S S* C'), { corrections: [pairCorrection({ kind: 'confirm', lead: L1, clip: S2 })] });
    expect(set.of(1)?.swapped).toMatchObject({ clip: S2, confirmed: true, runnerUp: { clip: S3 } });
    expect(set.of(1)?.swapped).not.toHaveProperty('margin');
    expect(set.of(1)?.swapped?.terms[0]?.words).toBe('confirmed by hand (corrections.yaml, line 3: R. Amsel, script, board misread)');
  });

  it('a forbidden pass is not taken, and a confirmation beats that too', () => {
    const forbid = pairCorrection({ kind: 'forbid', lead: L1, clip: S3 });
    const set = matchOne(takes('L* S S* C'), { corrections: [forbid] });
    expect(set.swapped(1)).toBe(2);
    expect(set.leftOver[0]?.why).toBe('forbidden by hand beside every lead take (corrections.yaml, line 3: R. Amsel, script, board misread)');
    const both = matchOne(takes('L* S S* C'), { corrections: [forbid, pairCorrection({ kind: 'confirm', lead: L1, clip: S3 })] });
    expect(both.swapped(1)).toBe(3);
  });

  it('an offset set by hand is the sync', () => {
    const set = matchOne(takes('L* S* C'), { corrections: [pairCorrection({ kind: 'sync', lead: L1, clip: S2, offset: 7 })] });
    expect(set.of(1)?.swapped?.sync).toMatchObject({ method: 'correction', offset: 7 });
  });

  it('a confirmation may give a clip another role, and a second lead becomes the swapped pass of the first', () => {
    const other = matchOne(takes('L* L S C'), { corrections: [pairCorrection({ kind: 'confirm', lead: L1, clip: S2 })] });
    expect(other.matches.map(({ lead }) => lead)).toEqual([L1]);
    expect(other.swapped(1)).toBe(2);
    expect(other.of(1)?.swapped?.terms[0]?.words).toContain('taken for the swapped pass, since nothing names it');
    const clean = matchOne(takes('L* ? S ?'), { corrections: [pairCorrection({ kind: 'confirm', lead: L1, clip: C4, role: 'clean' })] });
    expect(clean.clean(1)).toBe(4);
    expect(clean.left).toEqual([2]);
  });

  it('moves a confirmed pass out of a set without a lead, or out of nowhere, into the set of its lead', () => {
    const lead = pass({ role: 'lead', take: 1, at: '10:00:00:00' });
    const misread = pass({ role: 'swapped', take: 2, setUp: '27D', at: '10:05:00:00' });
    const unslated = pass({ role: 'clean', take: 3, setUp: 'none', at: '10:10:00:00' });
    const sets = [plateSet([lead]), plateSet([misread], { slate: '27D' })];
    const day = groupedDay(sets, { clips: [lead, misread, unslated], unplaced: [{ clip: unslated.id, why: 'no slate' }] });
    const corrections = [misread, unslated].map(({ file }) => pairCorrection({ kind: 'confirm', lead: lead.file, clip: file }));
    const matched = matchDay(day, matchRules({ corrections }));
    expect(matched.sets.map(({ set }) => set.id)).toEqual(['27B-A']);
    expect(matched.sets[0]?.set.clips.map(({ id }) => id)).toEqual([lead.id, misread.id, unslated.id]);
    expect(matched.sets[0]?.matches[0]).toMatchObject({ swapped: { clip: misread.id, confirmed: true }, clean: { clip: unslated.id, confirmed: true } });
    expect(matched.grouped.unplaced).toEqual([]);
  });

  it('lends a confirmed pass whose own set has a lead, and does not call it left over there', () => {
    const lead = pass({ role: 'lead', take: 1, at: '10:00:00:00' });
    const own = pass({ role: 'lead', take: 5, setUp: '27C', at: '10:20:00:00' });
    const [clean, circled] = [6, 7].map((take) => pass({ role: 'clean', take, setUp: '27C', at: `10:2${take}:00:00`, over: { circled: take === 7 } }));
    if (clean === undefined || circled === undefined) throw new Error('two clean plates');
    const day = groupedDay([plateSet([lead]), plateSet([own, clean, circled], { slate: '27C' })]);
    const matched = matchDay(day, matchRules({ corrections: [pairCorrection({ kind: 'confirm', lead: lead.file, clip: clean.file })] }));
    expect(matched.sets.map(({ matches }) => matches[0]?.clean?.clip)).toEqual([clean.id, circled.id]);
    expect(matched.sets.map(({ leftOver }) => leftOver)).toEqual([[], []]);
  });

  it('finds clips by file name in whatever folder, and by the whole path where two share a name', () => {
    const folder = (name: string, clip: Clip): Clip => ({ ...clip, id: `${name}/${clip.file}`, file: `${name}/${clip.file}` });
    const clips = takes('L* S S* C').map((clip) => folder('day01', clip));
    const set = matchOne(clips, { corrections: [pairCorrection({ kind: 'confirm', lead: L1, clip: `day01/${S2}` })] });
    expect(set.swapped(1)).toBe(2);
  });

  it('uses a name that two clips share for neither', () => {
    const clips = takes('L* S* S C');
    const other = pass({ role: 'reference', take: 9, at: '11:00:00:00', over: { id: `b/${S3}`, file: `b/${S3}` } });
    const confirm = (clip: string) => ({ corrections: [pairCorrection({ kind: 'confirm', lead: L1, clip })] });
    const elsewhere = clips.map((clip) => (clip.file === S3 ? { ...clip, id: `a/${S3}`, file: `a/${S3}` } : clip));
    expect(matchOne([...elsewhere, other], confirm(S3)).swapped(1)).toBe(2);
    expect(matchOne([...elsewhere, other], confirm(`a/${S3}`)).swapped(1)).toBe(3);
  });
});

describe('sync in a matched day', () => {
  it('feeds evidence of later steps into the matches', () => {
    const clips = takes('L* S* C');
    const evidence = [{ kind: 'guide-audio' as const, lead: 'A003C001_27B.mov', clip: 'A003C002_27B.mov', offset: -3, confidence: 0.9, words: 'the sound agrees' }];
    const [set] = matchDay(groupedDay([plateSet(clips)]), matchRules(), evidence).sets;
    expect(set?.matches[0]?.swapped?.sync).toEqual({ method: 'guide-audio', offset: -3, confidence: 0.9, words: 'the sound agrees' });
  });

  it('judges coverage under the sync: a moco pass that starts late does not hold the cut', () => {
    const moco = method('moco', { movingCamera: true, repeatedMove: true });
    const shots = [{ shot: 'TW_020', slate: '27B', cutIn: '10:00:00:00', cutOut: '10:00:05:00', handles: {}, from: 'shots.csv line 3' }];
    const clips = takes('L* S1 S2 C', { S1: pass({ role: 'swapped', take: 2, at: '10:00:01:00' }), S2: pass({ role: 'swapped', take: 3, at: '10:00:00:00' }) });
    const set = matchOne(clips, {}, { method: moco }, { shots });
    expect(set.swapped(1)).toBe(3);
    expect(set.of(1)?.swapped?.margin).toBeGreaterThan(1);
  });
});
