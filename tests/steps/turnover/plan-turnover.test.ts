import { describe, expect, it } from 'vitest';
import { finding } from '../../support/make-judged.ts';
import type { InventedShot } from '../../support/make-turnover.ts';
import { turnoverDay, turnoverOptions } from '../../support/make-turnover.ts';
import type { TurnoverPlan } from '../../../src/steps/turnover/plan-turnover.ts';
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

  it('prints as JSON, the same for the same day', () => {
    expect(formatPlan(plan([BASE]))).toBe(formatPlan(plan([BASE])));
    expect(JSON.parse(formatPlan(plan([BASE]))).shots[0]).toMatchObject({ folder: 'SMR_027_0010', sheet: 'SMR_027_0010/SMR_027_0010_sheet.pdf' });
  });
});
