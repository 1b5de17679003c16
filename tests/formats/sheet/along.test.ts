import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { JudgedSet } from '../../../src/core/checks/judged.ts';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { MoveMark } from '../../../src/core/material/shot-list.ts';
import { reportOf } from '../../../src/formats/report/report.ts';
import { alongBlocks } from '../../../src/formats/sheet/along.ts';
import { axisFor, partsOf } from '../../../src/formats/sheet/axis.ts';
import type { Block, CurvePlot } from '../../../src/formats/sheet/content.ts';
import { sheetContents } from '../../../src/formats/sheet/sheet-contents.ts';
import { DEFAULT_SHEET_TEMPLATE } from '../../../src/formats/sheet/template.ts';
import { checkDay } from '../../../src/steps/check/check-day.ts';
import { ROLE_WORDS } from '../../support/make-clips.ts';
import { checkRules, makeFullClip, makeMatchedDay, makeSet } from '../../support/make-matched.ts';
import { makeMove } from '../../support/make-moves.ts';

const LEAD = makeFullClip(1, 'lead');
const SWAPPED = makeFullClip(2, 'swapped');

function judge(clips: readonly Clip[], up: number, marks: readonly MoveMark[] = []): JudgedSet {
  const ties = clips.flatMap((clip) => {
    if (marks.length > 0) return [];
    const move = makeMove({ file: clip.file.replace('.mov', '.jsonl'), at: '00:00:00:00', frames: 240, pose: (frame) => ({ right: frame, up: 1200 + (clip.role === 'lead' ? 0 : (up * frame) / 239) }) });
    const start = clip.start?.frame ?? 0;
    return [{ move: { ...move, samples: move.samples.map((sample) => ({ ...sample, frame: sample.frame + start })) }, clip: clip.id, evidence: '' }];
  });
  const [set] = checkDay(makeMatchedDay([makeSet({ clips, method: { name: 'handheld', movingCamera: true } })], { marks, moves: ties }), checkRules({ roleWords: ROLE_WORDS })).sets;
  if (set === undefined) throw new Error('one set');
  return set;
}

function plotsOf(blocks: readonly Block[]): readonly CurvePlot[] {
  return blocks.flatMap((block) => (block.kind === 'curves' ? [block.plot] : []));
}

describe('what runs along the take, on a sheet', () => {
  it('shows the channel that differs, the one that moves, and the px with their limit and worst frame', () => {
    const [plot, ...more] = plotsOf(alongBlocks(judge([LEAD, SWAPPED], 40)));
    expect(more).toEqual([]);
    expect(plot).toMatchObject({ span: { start: 0, end: 240 }, title: expect.stringContaining('A003C002_261125_R7QK.mov (swapped pass) beside A003C001_261125_R7QK.mov') });
    expect(plot?.panels.map(({ label, lines }) => [label, lines.map(({ name, look }) => `${name} ${look}`)])).toEqual([
      ['height, mm', ['lead solid', 'swapped pass dashed']],
      ['place to the right on the stage, mm', ['lead solid', 'swapped pass dashed']],
      ['difference, px', ['near plane dashed', 'far plane dotted', 'parallax solid']],
    ]);
    const px = plot?.panels[2];
    expect(px).toMatchObject({ limit: { value: 1, label: 'limit of parallax 1 px' }, worst: { frame: 239 }, from: 0 });
    // F·t·(1/near − 1/far), docs/optics.md: 40 mm, 3 m and 6 m.
    expect(px?.worst?.value).toBeCloseTo(((35 * 4096) / 24.89) * 40 * (1 / 3000 - 1 / 6000), 1);
    expect(px?.words).toContain('worst at frame 239');
  });

  it('is a section of its own that is left out when there is nothing in it', () => {
    const headings = (judged: JudgedSet): readonly string[] => sheetContents(judged, DEFAULT_SHEET_TEMPLATE, { show: 'Saltmarsh Row' }).sections.map(({ heading }) => heading);
    expect(headings(judge([LEAD, SWAPPED], 40))).toContain('Along the take');
    expect(headings({ ...judge([LEAD, SWAPPED], 40), along: [] })).not.toContain('Along the take');
  });

  it('draws single points for marks, and lists them', () => {
    const mark = (take: number, name: string, tc: string, z: number): MoveMark => ({ slate: '27B', take, pass: '', mark: name, tc, x: 0, y: 0, z, pan: 0, tilt: 0, roll: 0, from: 'moves.csv line 2' });
    // Lead and swapped pass begin at 10:02:00:00 and 10:04:00:00 by the way clips are made here.
    const blocks = alongBlocks(judge([LEAD, SWAPPED], 0, [mark(1, 'start', '10:02:00:12', 1.2), mark(1, 'end', '10:02:05:00', 1.2), mark(2, 'start', '10:04:00:12', 1.2), mark(2, 'end', '10:04:05:00', 1.22)]));
    const [plot] = plotsOf(blocks);
    expect(plot?.panels).toMatchObject([{ lines: [{ look: 'ring', parts: [[{ frame: 12 }], [{ frame: 120 }]] }, { look: 'cross' }, { look: 'disc' }], worst: { frame: 120, label: expect.stringMatching(/^"end": 19\.2 px of parallax$/u) } }]);
    const table = blocks.find(({ kind }) => kind === 'table');
    expect(table?.kind === 'table' ? table.rows.map((row) => row.map(({ text }) => text)) : []).toEqual([
      ['start', '0 s', 'stood alike', '0 px', '0 px', '0 px'], ['end', '0 s', 'stood 20 mm higher', '38.4 px', '19.2 px', '19.2 px'],
    ]);
  });

  it('is told in short in the report, as its schema says', () => {
    const schema: object = JSON.parse(readFileSync(new URL('../../../docs/report.schema.json', import.meta.url), 'utf8'));
    const set = judge([LEAD, SWAPPED], 40);
    const report = JSON.parse(JSON.stringify(reportOf({ clips: set.matched.set.clips, sets: [set], unplaced: [], findings: [] })));
    const isValid = new Ajv2020({ strictTypes: false, allErrors: true }).compile(schema);
    expect(isValid(report), JSON.stringify(isValid.errors)).toBe(true);
    expect(report.sets[0].along).toMatchObject([{ lead: LEAD.id, clip: SWAPPED.id, role: 'swapped', lens: [], move: { by: 'tracked', frame: 239, parallaxPx: expect.closeTo(38.4, 1), lateFrames: null, speed: null } }]);
  });
});

describe('an axis', () => {
  it('holds every value with steps of 1, 2 or 5, six labels at most', () => {
    fc.assert(fc.property(fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 20 }), (values) => {
      const { from, to, steps } = axisFor(values);
      // A billionth of the axis is far less than the width of its lines.
      const hair = (to - from) * 1e-9;
      expect(from).toBeLessThanOrEqual(Math.min(...values) + hair);
      expect(to).toBeGreaterThanOrEqual(Math.max(...values) - hair);
      expect(to).toBeGreaterThan(from);
      expect(steps.length).toBeLessThanOrEqual(7);
      expect(JSON.stringify(steps)).not.toMatch(/NaN|Infinity|"-|null/u);
    }));
  });

  it('of nothing is an axis all the same', () => {
    expect(axisFor([])).toEqual({ from: 0, to: 1, steps: [] });
  });
});

describe('a line', () => {
  it('is parted where frames are missing', () => {
    const dots = [0, 1, 2, 9, 10].map((frame) => ({ frame, value: frame }));
    expect(partsOf(dots, { start: 0, end: 11 }, 3).map((part) => part.length)).toEqual([3, 2]);
  });

  it('of a long move is thinned, and keeps its highest and lowest point', () => {
    const dots = Array.from({ length: 20_000 }, (_, frame) => ({ frame, value: frame === 12_345 ? 99 : frame === 777 ? -99 : Math.sin(frame / 500) }));
    const [part] = partsOf(dots, { start: 0, end: 20_000 }, 3);
    expect(part?.length).toBeLessThanOrEqual(800);
    expect(part).toContainEqual({ frame: 12_345, value: 99 });
    expect(part).toContainEqual({ frame: 777, value: -99 });
  });
});
