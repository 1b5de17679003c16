import { describe, expect, it } from 'vitest';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { CutShot } from '../../../src/core/material/cut.ts';
import type { ShotRow } from '../../../src/core/material/shot-list.ts';
import { neededRanges } from '../../../src/core/coverage/needed-ranges.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { parseEdl } from '../../../src/formats/edl/parse-edl.ts';
import { formatOtio } from '../../../src/formats/otio/format-otio.ts';
import { parseOtio } from '../../../src/formats/otio/parse-otio.ts';
import { matchDay } from '../../../src/steps/match/match-day.ts';
import { tieDay } from '../../../src/steps/cut/tie-day.ts';
import { groupedDay, matchRules, pass, plateSet } from '../../support/make-sets.ts';

const RULES = { shotCodes: ['marker', 'comment', 'clip-name', 'shot-list'], shotCodePatterns: ['@@@_###_####'] } as const;

// 27B: lead A003C001 from 10:00:00:00, swapped A003C002 from 10:10:00:00, clean A003C003 from 10:20:00:00; 240 frames each.
const lead = pass({ role: 'lead', take: 1, at: '10:00:00:00' });
const swapped = pass({ role: 'swapped', take: 2, at: '10:10:00:00' });
const other = pass({ role: 'swapped', take: 4, at: '10:30:00:00', over: { circled: true } });
const clean = pass({ role: 'clean', take: 3, at: '10:20:00:00' });
const SET = [lead, swapped, clean, other];

function tie(lines: readonly string[], { clips = SET, shots = [] as readonly ShotRow[], files = [lines] as readonly (readonly string[])[] } = {}) {
  const cuts = files.map((text, index) => parseEdl(text.join('\n'), { file: `cut${index === 0 ? '' : `_${index + 1}`}.edl`, rate: frameRate(24) }));
  const grouped = groupedDay([plateSet(clips)], { shots });
  const day = tieDay(grouped, cuts, RULES);
  const tied: readonly CutShot[] = day.grouped.shots.flatMap(({ inCut }) => inCut ?? []);
  return { ...day, tied, first: tied[0], layers: tied[0]?.layers ?? [], findings: day.grouped.findings.map(({ code, severity, consequence }) => `${severity} ${code}: ${consequence}`), cuts };
}

const event = (number: number, reel: string, track: string, source: string, out: string, record: string, end: string): string => `${String(number).padStart(3, '0')} ${reel} ${track} C ${source} ${out} ${record} ${end}`;
const LEAD = event(1, 'A003C001', 'V', '10:00:02:00', '10:00:04:00', '01:00:00:00', '01:00:02:00');
const SWAPPED = event(2, 'A003C002', 'V2', '10:10:02:05', '10:10:04:05', '01:00:00:00', '01:00:02:00');

describe('a cut laid over a day', () => {
  it('makes a shot of each lead with what lies over it, and frames in clip counts', () => {
    const { first, layers, findings } = tie([LEAD, SWAPPED]);
    expect(findings).toEqual([]);
    expect(first).toMatchObject({ lead: lead.id, record: { start: 86_400, end: 86_448 }, from: 'cut.edl line 1' });
    expect(layers.map(({ clip, track, source, atRecordIn, tiedBy }) => [clip, track, source, atRecordIn, tiedBy])).toEqual([
      [lead.id, 'V1', { start: 48, end: 96 }, 48, 'reel A003C001 and source timecode'],
      [swapped.id, 'V2', { start: 53, end: 101 }, 53, 'reel A003C002 and source timecode'],
    ]);
  });

  it('tells the sync of its layers, which beats every other automatic evidence', () => {
    const { grouped, evidence } = tie([LEAD, SWAPPED]);
    expect(evidence).toMatchObject([{ kind: 'cut', lead: lead.id, clip: swapped.id, offset: 5 }]);
    const [match] = matchDay(grouped, matchRules(), evidence).sets[0]?.matches ?? [];
    expect(match?.swapped).toMatchObject({ clip: swapped.id, sync: { method: 'cut', offset: 5 } });
  });

  it('chooses the take the editor used, circled or not', () => {
    const { grouped, evidence } = tie([LEAD, SWAPPED]);
    expect(matchDay(grouped, matchRules(), []).sets[0]?.matches[0]?.swapped?.clip).toBe(other.id);
    expect(matchDay(grouped, matchRules(), evidence).sets[0]?.matches[0]?.swapped?.clip).toBe(swapped.id);
  });

  it('gives the lead its range, by the cut and with the handles of the shot list', () => {
    const shots: readonly ShotRow[] = [{ shot: 'TWR_027_0010', slate: '27B', take: 1, vendor: 'Fenlight Post', cutIn: '10:00:02:10', cutOut: '10:00:03:00', handles: { head: 12 }, from: 'shots.csv line 2' }];
    const { grouped, first } = tie([LEAD], { shots });
    expect(first).toMatchObject({ shot: 'TWR_027_0010', shotFrom: 'shot list' });
    expect(grouped.shots).toMatchObject([{ vendor: 'Fenlight Post', cutFrames: { start: 48, end: 96 } }]);
    expect(neededRanges(lead, grouped.shots, { head: 8, tail: 8 }).ranges).toEqual([
      { lead: lead.id, shot: 'TWR_027_0010', basis: 'cut', cut: { start: 48, end: 96 }, handles: { head: 12, tail: 8 }, from: 'cut.edl line 1, shots.csv line 2' },
    ]);
  });

  it('without a cut leaves the day as it was', () => {
    const grouped = groupedDay([plateSet(SET)]);
    expect(tieDay(grouped, [], RULES)).toEqual({ grouped, evidence: [] });
  });

  it('gives the same whatever the order of its files', () => {
    const files = [[LEAD], [SWAPPED.replace(' V2 ', ' V ')]];
    const forth = tie([], { files });
    const back = tieDay(groupedDay([plateSet(SET)]), forth.cuts.toReversed(), RULES);
    expect(back).toEqual({ grouped: forth.grouped, evidence: forth.evidence });
    expect(forth.evidence).toMatchObject([{ offset: 5 }]);
  });

  it('takes edit lists of different files for one cut only where their passes belong to one set', () => {
    const stranger = pass({ role: 'swapped', take: 9, at: '11:00:00:00', setUp: '31A' });
    const cuts = [[LEAD], ['001 A003C009 V C 11:00:02:00 11:00:04:00 01:00:00:00 01:00:02:00']].map((text, index) => parseEdl(text.join('\n'), { file: `${index}.edl`, rate: frameRate(24) }));
    const day = tieDay(groupedDay([plateSet(SET), plateSet([stranger], { id: '31A-A', slate: '31A' })]), cuts, RULES);
    expect(day.evidence).toEqual([]);
    expect(day.grouped.shots[0]?.inCut?.layers).toHaveLength(1);
  });

  it('makes no shot of an ordinary clip', () => {
    const ordinary = pass({ role: 'lead', take: 7, at: '12:00:00:00', setUp: '12F' });
    const grouped = { ...groupedDay([plateSet(SET)]), clips: [...SET, ordinary] };
    const cut = parseEdl('001 A003C007 V C 12:00:02:00 12:00:04:00 01:00:00:00 01:00:02:00', { file: 'cut.edl', rate: frameRate(24) });
    expect(tieDay(grouped, [cut], RULES).grouped).toMatchObject({ shots: [], findings: [] });
  });
});

describe('retimes and transitions', () => {
  it('give the source frames that are used, and the sync of layers that run alike', () => {
    const speeds = ['M2 A003C001 048.0 10:00:02:00', 'M2 A003C002 048.0 10:10:02:05'];
    const { layers, evidence } = tie([LEAD.replace('10:00:04:00', '10:00:05:23'), speeds[0] ?? '', SWAPPED.replace('10:10:04:05', '10:10:06:04'), speeds[1] ?? '']);
    expect(layers.map(({ source, retime }) => [source, retime?.kind])).toEqual([[{ start: 48, end: 143 }, 'speed'], [{ start: 53, end: 148 }, 'speed']]);
    expect(evidence).toMatchObject([{ offset: 5 }]);
  });

  it('tell no sync where layers run at different speeds, or one is frozen', () => {
    expect(tie([LEAD, SWAPPED.replace('10:10:04:05', '10:10:06:04'), 'M2 A003C002 048.0 10:10:02:05']).evidence).toEqual([]);
    const frozen = tie([LEAD, SWAPPED.replace('10:10:04:05', '10:10:02:06'), 'M2 A003C002 000.0 10:10:02:05']);
    expect(frozen.evidence).toEqual([]);
    expect(frozen.layers[1]).toMatchObject({ source: { start: 53, end: 54 }, retime: { kind: 'freeze' } });
  });

  it('extend the range of what is seen under a dissolve', () => {
    const { layers, first } = tie([
      LEAD, '002 A003C001 V C 10:00:04:00 10:00:04:00 01:00:02:00 01:00:02:00', '002 A003C009 V D 012 11:00:00:00 11:00:02:00 01:00:02:00 01:00:04:00',
    ]);
    expect(layers[0]).toMatchObject({ source: { start: 48, end: 108 }, dissolve: { head: 0, tail: 12 }, atRecordIn: 48 });
    expect(first?.notes).toContain('V1: a transition of 12 frames after its tail');
  });

  it('played backwards extend the other end', () => {
    const timeline = JSON.parse(formatOtio({ name: 'x', rate: frameRate(24), start: 0, tracks: [{ name: 'V1', clips: [{ name: 'A003C001_27B', at: 0, frames: 24, sourceStart: 864_048, timeScalar: -1, media: { kind: 'missing' } }] }] }));
    timeline.tracks.children[0].children.push({ OTIO_SCHEMA: 'Transition.1', transition_type: 'SMPTE_Dissolve', in_offset: { OTIO_SCHEMA: 'RationalTime.1', rate: 24, value: 0 }, out_offset: { OTIO_SCHEMA: 'RationalTime.1', rate: 24, value: 6 } });
    const { grouped } = tieDay(groupedDay([plateSet(SET)]), [parseOtio(JSON.stringify(timeline), { file: 'x.otio' })], RULES);
    expect(grouped.shots[0]?.inCut?.layers[0]).toMatchObject({ source: { start: 42, end: 72 }, atRecordIn: 71 });
  });
});

describe('shot codes', () => {
  it('come from the first rule that has one, and the rule is kept', () => {
    const marker = '* LOC: 01:00:00:10 RED TWR_027_0010';
    expect(tie([LEAD, marker, '* TWR_099_0001']).first).toMatchObject({ shot: 'TWR_027_0010', shotFrom: 'marker' });
    expect(tie([LEAD, '* twr_027_0020 door']).first).toMatchObject({ shot: 'TWR_027_0020', shotFrom: 'comment' });
    expect(tie([LEAD, '* FROM CLIP NAME: TWR_027_0030 (A003C001)']).first).toMatchObject({ shot: 'TWR_027_0030', shotFrom: 'clip name' });
  });

  it('may stand on any layer', () => {
    expect(tie([LEAD, SWAPPED, '* TWR_027_0040']).first).toMatchObject({ shot: 'TWR_027_0040' });
  });

  it('are the event number where nobody gives one, and that is called assumed', () => {
    expect(tie([LEAD]).first).toMatchObject({ shot: 'EVENT_001', shotFrom: 'event number, assumed' });
  });

  it('that stand twice get a number, and it is told', () => {
    const again = event(3, 'A003C001', 'V', '10:00:06:00', '10:00:07:00', '01:00:02:00', '01:00:03:00');
    const { tied, findings } = tie([LEAD, '* TWR_027_0010', again, '* TWR_027_0010']);
    expect(tied.map(({ shot }) => shot)).toEqual(['TWR_027_0010', 'TWR_027_0010_2']);
    expect(findings).toEqual([expect.stringContaining('note unused-row')]);
  });
});

describe('events that do not tell their clip', () => {
  const twin: Clip = pass({ role: 'lead', take: 8, at: '10:00:01:00' });

  it('are told when several clips answer, by roll and timecode alone', () => {
    const { findings, tied } = tie([LEAD.replace('A003C001', 'A003')], { clips: [...SET, twin] });
    expect(tied).toEqual([]);
    expect(findings).toEqual([expect.stringContaining('warn ambiguous-match: cut.edl, line 1: found event 001, which answers to A003C001_27B.mov, A003C008_27B.mov by reel A003')]);
  });

  it('are decided by timecode where it lies in one of them', () => {
    expect(tie([LEAD.replace('A003C001', 'A003')]).first?.lead).toBe(lead.id);
  });

  it('are decided by the clip name where reels are cut short alike', () => {
    expect(tie([LEAD.replace('A003C001', 'A003'), '* FROM CLIP NAME: A003C001_27B'], { clips: [...SET, twin] }).first?.lead).toBe(lead.id);
  });

  it('may call a clip by its slate', () => {
    expect(tie([LEAD.replace('A003C001', 'AX'), '* FROM CLIP NAME: 27B-1']).first?.layers[0]?.tiedBy).toBe('clip name 27B-1, its slate and source timecode');
  });

  it('are told when none answers: a shot may be lost with an event on the track of the leads, and is not with one over them', () => {
    const words = 'cut.edl, line 1: found event 001, which names reel Z999C001; expected a clip that is here';
    expect(tie([LEAD.replace('A003C001', 'Z999C001')]).findings).toEqual([expect.stringContaining(`warn unused-row: ${words}`)]);
    expect(tie([LEAD, SWAPPED.replace('A003C002', 'Z999C002')]).findings).toEqual([expect.stringContaining('note unused-row: cut.edl, line 2')]);
  });

  it('stop the day when the shot list names them, by code, by the clips they may mean or by the slate they call them', () => {
    const row: ShotRow = { shot: 'TWR_027_0010', slate: '27B', take: 1, vendor: 'Fenlight Post', handles: {}, from: 'shots.csv line 2' };
    const coded = ['* LOC: 01:00:00:10 RED TWR_027_0010'];
    const untied = [
      [LEAD.replace('A003C001', 'Z999C001'), ...coded],
      [LEAD.replaceAll('10:00:0', '15:00:0')],
      [LEAD.replace('A003C001', 'AX'), '* FROM CLIP NAME: Z 27B-1'.replace('Z ', '')].map((line) => line.replaceAll('10:00:0', '15:00:0')),
      [LEAD.replace('10:00:04:00', '10:00:04'), ...coded],
      [LEAD.replace('10:00:04:00', '10:00:04:61').replace('V C', 'V  C').replace('10:00:04:61', '10:61:04:00'), ...coded],
      [LEAD.replace('001', '0O1'), ...coded],
      [SWAPPED, ...coded],
    ];
    for (const lines of untied) {
      const { grouped, findings } = tie(lines, { shots: [row] });
      expect(findings.filter((line) => line.startsWith('stop '))).toHaveLength(1);
      expect(grouped.cutRest?.untied).toMatchObject([{ shot: 'TWR_027_0010', coded: true, listed: true, vendor: 'Fenlight Post', makesShot: true, from: 'cut.edl line 1' }]);
    }
  });

  it('that are muted show nothing, and are not missed', () => {
    const cut = parseEdl(LEAD.replace('A003C001', 'Z999C001'), { file: 'cut.edl', rate: frameRate(24) });
    const day = tieDay(groupedDay([plateSet(SET)]), [{ ...cut, events: cut.events.map((one) => ({ ...one, disabled: true })) }], RULES);
    expect(day.grouped).toMatchObject({ findings: [], cutRest: { untied: [] } });
  });

  it('are told together when there are many', () => {
    const many = Array.from({ length: 30 }, (_, index) => `${String(index + 1).padStart(3, '0')} Z9 V C 0 24 ${24 * index} ${24 * (index + 1)}`);
    expect(tie(many).findings).toEqual([expect.stringContaining('30 events name clips that are not here')]);
  });

  it('are told when their timecode lies outside the clip they name', () => {
    expect(tie([LEAD.replaceAll('10:00:0', '15:00:0')]).findings).toEqual([expect.stringContaining('source timecode 15:00:02:00 lies outside the clip, which starts at 10:00:00:00 and holds 240 frames')]);
  });

  it('are told when they use a pass without its lead', () => {
    expect(tie([SWAPPED]).findings).toEqual([expect.stringContaining('which uses A003C002_27B.mov (swapped); expected a lead pass over or under it')]);
  });
});

it('a cut that lays two clips over each other in two ways says so, and is half as sure', () => {
  const again = [event(3, 'A003C001', 'V', '10:00:06:00', '10:00:07:00', '01:00:02:00', '01:00:03:00'), event(4, 'A003C002', 'V2', '10:10:06:07', '10:10:07:07', '01:00:02:00', '01:00:03:00')];
  const { evidence, findings } = tie([LEAD, SWAPPED, ...again]);
  expect(evidence.map(({ offset, confidence }) => [offset, confidence])).toEqual([[5, 0.5], [7, 0.5]]);
  expect(findings).toEqual([expect.stringContaining('warn sources-disagree')]);
});

it('colour decision values travel with the shot', () => {
  expect(tie([LEAD, '* ASC_SAT 0.9']).first?.cdl).toEqual({ slope: [1, 1, 1], offset: [0, 0, 0], power: [1, 1, 1], saturation: 0.9, from: 'cut.edl line 2' });
});
