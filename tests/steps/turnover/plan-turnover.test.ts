import { describe, expect, it } from 'vitest';
import { finding } from '../../support/make-judged.ts';
import type { InventedShot } from '../../support/make-turnover.ts';
import { turnoverDay, turnoverOptions, withUntied } from '../../support/make-turnover.ts';
import type { TurnoverPlan } from '../../../src/steps/turnover/plan-turnover.ts';
import { formatCountSheet } from '../../../src/formats/turnover/count-sheet.ts';
import { formatTurnoverTable } from '../../../src/formats/terminal/turnover-table.ts';
import { formatPlan, planTurnover } from '../../../src/steps/turnover/plan-turnover.ts';
import type { TurnoverOptions } from '../../../src/steps/turnover/turnover-options.ts';

const BASE: InventedShot = { cut: [48, 96] };

function plan(shots: readonly InventedShot[], before?: TurnoverPlan, over: Partial<TurnoverOptions> = {}): TurnoverPlan {
  const day = turnoverDay(...shots);
  return planTurnover(day, turnoverOptions(day, over), before === undefined ? undefined : { package: 't1', turnover: before.turnover });
}

function changeOf(now: InventedShot, over: Partial<TurnoverOptions> = {}): readonly [kinds: readonly string[], words: string, packaged: boolean] {
  const { turnover } = plan([now], plan([BASE]), over);
  const [shot] = turnover.shots;
  return [shot?.change.kinds ?? [], shot?.change.words.join(' ') ?? '', shot?.folder !== null];
}

describe('planning a turnover', () => {
  it('numbers the pull from 1001, the cut after its head handle, each pass by its sync', () => {
    const [shot] = plan([{ ...BASE, swappedOffset: 5 }]).shots;
    expect(shot?.file).toMatchObject({ numbers: { first: 1001, last: 1064 }, cut: { first: 1009, last: 1056 }, revision: 1, change: { kinds: ['new'] } });
    const [lead, swapped, clean] = shot?.file.passes ?? [];
    expect(lead?.source).toEqual({ first: 40, last: 103, timecodeFirst: '14:22:01:16', timecodeLast: '14:22:04:07' });
    expect(swapped).toMatchObject({ numbers: { first: 1001, last: 1064 }, source: { first: 45, last: 108 }, lies: 'in sync' });
    expect(clean).toMatchObject({ lies: 'held', numbers: { first: 1001, last: 1032 }, source: { first: 0, last: 31 }, missing: [] });
  });

  it('says short handles and keeps the numbers, faking no frame', () => {
    const [shot] = plan([{ cut: [3, 30] }]).shots;
    expect(shot?.file.cut).toEqual({ first: 1009, last: 1035 });
    expect(shot?.file.passes[0]).toMatchObject({ numbers: { first: 1006, last: 1043 }, source: { first: 0 }, missing: [{ first: 1001, last: 1005, part: 'handle' }] });
  });

  it.each<[string, InventedShot, readonly string[], string, boolean]>([
    ['unchanged', BASE, ['unchanged'], 'Nothing changed.', false],
    ['longer at both ends', { cut: [46, 102] }, ['longer'], '2 frames more at the head (999-1000): all there. 6 frames more at the tail (1065-1070): all there.', true],
    ['longer than the swapped pass', { cut: [48, 112], swappedFrames: 110 }, ['longer'], '16 frames more at the tail (1065-1080): swapped lacks 10 of them.', true],
    ['shorter', { cut: [48, 90] }, ['shorter'], '6 frames fewer at the tail.', true],
    ['longer and shorter', { cut: [50, 100] }, ['shorter', 'longer'], '2 frames fewer at the head. 4 frames more at the tail (1065-1068): all there.', true],
    ['re-timed', { ...BASE, retime: { kind: 'speed', ratio: 2, words: '200 %' } }, ['re-timed'], 'Speed: now 200 %, it was as shot.', true],
    ['moved', { ...BASE, record: 24 }, ['moved'], 'Lies 24 frames later in the cut.', false],
    ['other take', { ...BASE, take: 2 }, ['other take'], 'The lead is now A_0001/A003C002.mov, it was A_0001/A003C001.mov.', true],
    ['re-synced', { ...BASE, swappedOffset: 2 }, ['re-synced'], 'swapped: now lies at an offset of 2 frames, it was 0.', true],
  ])('tells a shot that is %s', (_name, now, kinds, words, packaged) => {
    expect(changeOf(now)).toEqual([kinds, words, packaged]);
  });

  it('packages an unchanged shot when asked for all, or when frames are asked for that were not delivered', () => {
    expect(changeOf(BASE, { all: true })[2]).toBe(true);
    expect(changeOf(BASE, { pictures: 'dpx' })).toEqual([['other delivery'], 'Now with frames as DPX.', true]);
  });

  it('keeps the number of every frame a vendor has, and starts anew with another take', () => {
    const longer = plan([{ cut: [40, 96] }], plan([BASE]));
    expect(longer.shots[0]?.file.numbers).toEqual({ first: 993, last: 1064 });
    const third = plan([{ cut: [48, 96] }], longer);
    expect(third.shots[0]?.file.numbers).toEqual({ first: 1001, last: 1064 });
    expect(plan([{ cut: [40, 96], take: 2 }], plan([BASE])).shots[0]?.file.numbers.first).toBe(1001);
  });

  it('lists a shot that was dropped, and forgets it afterwards', () => {
    const first = plan([BASE, { code: 'SMR_027_0090', cut: [100, 120] }]);
    const second = plan([BASE], first);
    expect(second.turnover.dropped).toEqual(['SMR_027_0090']);
    expect(plan([BASE], second).turnover.dropped).toEqual([]);
  });

  const GONE: InventedShot = { code: 'SMR_027_0090', cut: [100, 120] };
  const LOST = [
    ['a line that cannot be read', { shot: 'SMR_027_0090', coded: true }],
    ['an event that names no clip', { short: 'names no clip that is here' }],
    ['an event that several clips answer to', { short: 'answers to several clips', listed: true, vendor: 'Fenlight Post' }],
  ] as const;

  it.each(LOST)('lists %s as left out, with its line and what to do', (_name, over) => {
    const day = withUntied(turnoverDay(BASE), over);
    const { leftOut } = planTurnover(day, turnoverOptions(day)).turnover;
    expect(leftOut).toEqual([{ shot: 'shot' in over ? over.shot : 'EVENT_009', kind: 'untied', why: 'cut.edl, line 30: found X; expected Y.', remedy: 'Correct the line.' }]);
  });

  it.each(LOST)('says of no shot that it was dropped while the cut holds %s', (_name, over) => {
    const day = withUntied(turnoverDay(BASE), over);
    const { turnover } = planTurnover(day, turnoverOptions(day), { package: 't1', turnover: plan([BASE, GONE]).turnover });
    expect(turnover.dropped).toEqual([]);
    const named = 'shot' in over;
    expect(turnover.shots.find(({ shot }) => shot === GONE.code)).toMatchObject({
      folder: null, packagedIn: 1,
      change: named ? { kinds: ['held back'] } : { kinds: ['cannot tell'], words: [expect.stringContaining(`cut.edl line 30 ${'short' in over ? over.short : ''}`)] },
    });
  });

  it('doubts a dropped shot even when what is not tied only lies over a lead', () => {
    const day = withUntied(turnoverDay(BASE), { makesShot: false, short: 'names no clip that is here' });
    const { turnover } = planTurnover(day, turnoverOptions(day), { package: 't1', turnover: plan([BASE, GONE]).turnover });
    expect(turnover).toMatchObject({ leftOut: [], dropped: [] });
  });

  it('lists shots of the shot list alike without a cut, and with one that does not use them', () => {
    const listed = { shot: 'SMR_099_0010', slate: '99Z', handles: {}, from: 'shots.csv line 5' };
    const leftOut = (cuts: readonly string[], before?: TurnoverPlan) => {
      const day = turnoverDay(BASE);
      return plan([BASE], before, { cuts, rows: [...turnoverOptions(day).rows, listed] }).turnover.leftOut.map(({ shot, kind, why }) => [shot, kind, why]);
    };
    expect(leftOut([])).toEqual([['SMR_099_0010', 'not-here', expect.stringContaining('expected a lead pass of it')]]);
    expect(leftOut(['cut.edl'])).toEqual([['SMR_099_0010', 'not-in-cut', 'shots.csv line 5: in the shot list, not in this cut.']]);
  });

  it('keeps the shots of another vendor as they stand, and calls none of them dropped', () => {
    const { turnover } = plan([BASE], plan([BASE]), { onlyVendor: 'Bar VFX' });
    expect(turnover).toMatchObject({ dropped: [], shots: [{ shot: 'SMR_027_0010', folder: null, change: { kinds: ['held back'] } }] });
  });

  it('says how the plates of each shot are judged', () => {
    const warned: InventedShot = { ...BASE, findings: ([lead = '']) => [finding('stop-differs', 'warn', [lead], undefined, undefined, 'grain may change', 'look', [])] };
    const { turnover, shots } = plan([warned]);
    expect(turnover.shots[0]?.judged).toEqual({ verdict: 'look', stops: 0, warnings: 1 });
    expect(formatTurnoverTable(turnover)).toMatch(/SMR_027_0010 {2}new {11}LOOK, 1 warning {2}Not turned over before\./);
    expect(formatCountSheet(shots.map(({ file }) => file), turnover)).toContain(',LOOK,0,1,');
  });

  it('leaves out a shot that a finding stops, with why and what to do, and packages it only when told to', () => {
    const stopped: InventedShot = { ...BASE, findings: ([lead = '', swapped = '']) => [finding('stop-differs', 'stop', [lead, swapped], undefined, undefined, 'grain changes at the line', 'shoot it again at T2.8', [])] };
    const { turnover, shots } = plan([stopped]);
    expect(shots).toEqual([]);
    expect(turnover.leftOut).toEqual([{ shot: 'SMR_027_0010', kind: 'stopped', why: 'stop-differs: grain changes at the line', remedy: 'shoot it again at T2.8' }]);
    const told = plan([stopped], undefined, { includeStopped: true });
    expect(told.shots).toHaveLength(1);
    expect(told.turnover.leftOut).toHaveLength(1);
    expect(told.shots[0]?.sheet.content.heading.verdict.answer).toBe('NOT COMPLETE');
    expect(plan([stopped], plan([BASE])).turnover.shots[0]).toMatchObject({ folder: null, packagedIn: 1, change: { kinds: ['held back'] } });
  });

  it('does not let what is wrong with the range of one shot stop another of the same lead', () => {
    const day = turnoverDay(BASE);
    const [set] = day.sets;
    if (set === undefined) throw new Error('no set');
    const [needed] = set.needed;
    const [row] = set.shots;
    if (needed === undefined || row === undefined) throw new Error('no shot');
    const other = { ...needed, shot: 'SMR_027_0020', from: 'cut.edl line 9' };
    const short = finding('short-tail', 'stop', [needed.lead], undefined, undefined, 'ends too early', 'shoot on', [`${other.from}: cut range 200 to 260`]);
    const both = { ...day, sets: [{ ...set, needed: [needed, other], shots: [row, { ...row, shot: other.shot, from: other.from }], findings: [short] }] };
    expect(planTurnover(both, turnoverOptions(both)).turnover.leftOut.map(({ shot }) => shot)).toEqual(['SMR_027_0020']);
  });

  it('delivers a pull list for a clip of which only the header can be read, and says so', () => {
    const [shot] = plan([{ ...BASE, lead: { decodable: false, kind: 'header-only' } }], undefined, { pictures: 'exr', movies: true }).shots;
    expect(shot?.file.passes[0]).toMatchObject({ pictures: null, movie: null, kind: 'header-only', notDelivered: expect.stringContaining('the pull list is the deliverable') });
    expect(shot?.file.passes[1]?.pictures).toMatchObject({ format: 'exr', bits: '16 bit half float', count: 64 });
    expect(JSON.stringify(shot?.sheet.content)).toContain('the pull list is the deliverable');
  });

  it('prints its sheet as every other: title, revision, timecode of the last frame, a column for the clean plate', () => {
    const { heading, sections, footer } = plan([BASE]).shots[0]?.sheet.content ?? {};
    expect(heading).toMatchObject({ title: 'Plate sheet', facts: expect.arrayContaining([{ label: 'Revision', value: expect.stringMatching(/^1 \(/) }]) });
    expect(footer?.left).toContain('· revision 1 (');
    const text = JSON.stringify(sections);
    expect(text).toContain('01:00:00:00 – 01:00:01:23 (last frame, in)');
    expect(text).not.toContain('frame after');
    const table = sections?.find(({ heading: named }) => named === 'Frame numbers')?.blocks[0];
    expect(table?.kind === 'table' && table.columns.map(({ heading: named }) => named)).toEqual(['Number', 'lead pass', 'swapped pass', 'clean plate, held']);
  });

  it('prints as JSON, the same for the same day', () => {
    expect(formatPlan(plan([BASE]))).toBe(formatPlan(plan([BASE])));
    expect(JSON.parse(formatPlan(plan([BASE]))).shots[0]).toMatchObject({ folder: 'SMR_027_0010', sheet: 'SMR_027_0010/SMR_027_0010_sheet.pdf' });
  });
});
