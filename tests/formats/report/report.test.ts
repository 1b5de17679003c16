import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import type { JudgedDay } from '../../../src/core/checks/judged.ts';
import { formatReport, reportOf } from '../../../src/formats/report/report.ts';
import { makeJudgedDay, makePass } from '../../support/make-judged.ts';
import { shuffledDay } from '../../support/shuffle-day.ts';

const schema: unknown = JSON.parse(readFileSync(new URL('../../../docs/report.schema.json', import.meta.url), 'utf8'));

/** The published schema lets objects gain keys; closed, it must still describe every key written today. */
function closed(node: unknown): unknown {
  if (Array.isArray(node)) return node.map(closed);
  if (typeof node !== 'object' || node === null) return node;
  const parts = Object.fromEntries(Object.entries(node).map(([key, part]) => [key, closed(part)]));
  return 'properties' in parts && typeof parts['required'] === 'object' ? { ...parts, additionalProperties: false } : parts;
}

function problemsOf(value: unknown, against: unknown): unknown {
  const validate = new Ajv2020({ allErrors: true, strictTypes: false }).compile(against as object);
  return validate(JSON.parse(JSON.stringify(value))) ? [] : validate.errors;
}

describe('report.json', () => {
  it('is valid under its published JSON Schema, which describes every key', () => {
    const report = reportOf(makeJudgedDay());
    expect(problemsOf(report, schema)).toEqual([]);
    expect(problemsOf(report, closed(schema))).toEqual([]);
    expect(problemsOf(reportOf({ clips: [], sets: [], unplaced: [], findings: [] }), closed(schema))).toEqual([]);
  });

  it('is refused by the schema when a verdict, a rate or a timecode is not one', () => {
    const report = reportOf(makeJudgedDay());
    const [set] = report.sets;
    const [clip] = report.clips;
    expect(problemsOf({ ...report, sets: [{ ...set, verdict: 'maybe' }] }, schema)).not.toEqual([]);
    expect(problemsOf({ ...report, clips: [{ ...clip, rate: '23.976' }] }, schema)).not.toEqual([]);
    expect(problemsOf({ ...report, clips: [{ ...clip, start: '14:22:33' }] }, schema)).not.toEqual([]);
    expect(problemsOf({ ...report, later: 'a key of tomorrow' }, schema)).toEqual([]);
  });

  it('has the same bytes whatever the order in which the day was read', () => {
    const day = makeJudgedDay();
    for (const seed of [1, 2, 3]) expect(formatReport(reportOf(shuffledDay(day, seed)))).toBe(formatReport(reportOf(day)));
  });

  it('writes exact rates, and a semicolon before the frames of drop-frame labels only (SMPTE ST 12-1)', () => {
    const report = reportOf(makeJudgedDay());
    const of = (id: string) => report.clips.find((clip) => clip.id === id);
    expect(of('A_0003/A003C012_261125_R7QK.mov')).toMatchObject({ start: '14:22:33:04', rate: '24000/1001', dropFrame: false, frames: 240 });
    expect(of('B_0002/B002C001_261125_QW7X.mov')).toMatchObject({ start: '10:00:58;20', rate: '30000/1001', dropFrame: true });
  });

  it('keeps every source of a value, with the file and the place', () => {
    const clip = reportOf(makeJudgedDay()).clips.find(({ id }) => id === 'A_0003/A003C012_261125_R7QK.mov');
    expect(clip?.sources['stop']).toEqual([
      { value: { kind: 'T', number: 2.8 }, raw: '{"kind":"T","number":2.8}', from: 'A_0003/A003C012_261125_R7QK.mov' },
      { value: { kind: 'T', number: 2.8 }, raw: '{"kind":"T","number":2.8}', from: 'reports/camera_A.csv, line 4, column stop' },
    ]);
  });

  it('says how the swapped pass lies under the lead, and null where a pass is missing', () => {
    const sets = reportOf(makeJudgedDay()).sets;
    const lead = 'A_0003/A003C012_261125_R7QK.mov';
    const match = sets.find(({ id }) => id === '27B-A')?.matches.find((entry) => entry.lead === lead);
    expect(match?.swapped).toMatchObject({ clip: 'A_0003/A003C013_261125_R7QK.mov', offset: -6, sync: { method: 'correction', confidence: 1 }, runnerUp: 'A_0003/A003C011_261125_R7QK.mov', margin: 8.5 });
    expect(sets.find(({ id }) => id === '50C-A')?.matches[0]?.swapped).toBeNull();
    expect(sets.find(({ id }) => id === '50C-A')).toMatchObject({ verdict: 'no', missingRoles: ['swapped'] });
  });

  it('never writes NaN, an infinite number or minus zero', () => {
    const day = makeJudgedDay();
    const odd = makePass({ file: 'odd.mov', role: 'lead', frames: 3, embedded: { focusDistance: Infinity, tilt: -0, focalLength: 0.1 + 0.2 } });
    const track = { source: { kind: 'sidecar', file: 'odd.csv', place: '' }, frames: 3, stopKind: 'T', values: { tilt: [Number.NaN, -0, 2], focusDistance: [Infinity, 1, 2], stop: [Number.NaN] } } as const;
    const [clip] = reportOf({ ...day, clips: [{ ...odd, tracks: [track] }], sets: [], unplaced: [], findings: [] }).clips;
    expect(clip?.lens).toMatchObject({ focusDistanceM: 'infinity', focalLengthMm: 0.3 });
    expect(Object.is(clip?.position.tiltDeg, 0)).toBe(true);
    expect(clip?.frameTables[0]?.fields).toEqual([
      { field: 'focusDistance', known: 3, first: 'infinity', last: 2, lowest: 1, highest: 'infinity' },
      { field: 'stop', known: 0, first: null, last: null, lowest: null, highest: null },
      { field: 'tilt', known: 2, first: 0, last: 2, lowest: 0, highest: 2 },
    ]);
    expect(problemsOf(reportOf({ ...day, clips: [{ ...odd, tracks: [track] }] }), closed(schema))).toEqual([]);
  });

  it('lists each unplaced clip with the reason', () => {
    const report = reportOf(makeJudgedDay());
    expect(report.unplaced).toEqual(['A_0007/A007C021_261125_R7QK.mov', 'B_0003/B003C002_261125_XY01.mov']);
    expect(report.unplacedReasons.map(({ clip }) => clip)).toEqual(report.unplaced);
    const accounted: JudgedDay['clips'][number]['id'][] = [...report.unplaced, ...report.sets.flatMap(({ clips }) => clips)];
    expect(accounted.toSorted()).toEqual(report.clips.map(({ id }) => id));
  });
});
