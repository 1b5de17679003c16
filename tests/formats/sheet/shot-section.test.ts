import { describe, expect, it } from 'vitest';
import type { JudgedSet } from '../../../src/core/checks/judged.ts';
import type { CutShot } from '../../../src/core/material/cut.ts';
import type { NeededRange } from '../../../src/core/coverage/coverage.ts';
import { frameRate } from '../../../src/core/timecode/rate.ts';
import { shotNumber } from '../../../src/formats/sheet/frame-numbers.ts';
import { sheetContents } from '../../../src/formats/sheet/sheet-contents.ts';
import { shotBlocks } from '../../../src/formats/sheet/shot-section.ts';
import { shotsOfSet } from '../../../src/formats/sheet/shot-sheet.ts';
import { DEFAULT_SHEET_TEMPLATE } from '../../../src/formats/sheet/template.ts';
import { reportOf } from '../../../src/formats/report/report.ts';
import { brokenSplit, clearSplit } from '../../support/make-judged.ts';

/** The second shot of the broken set: its swapped pass lacks frames at the tail. */
function shortShot(): { readonly judged: JudgedSet; readonly needed: NeededRange } {
  const shot = shotsOfSet(brokenSplit()).find((one) => one.shot === 'TWR_027_0020');
  const [needed] = shot?.judged.needed ?? [];
  if (shot === undefined || needed === undefined) throw new Error('the shot is gone');
  return { judged: shot.judged, needed };
}

/** The same, as a cut has it: at double speed, with colour values. */
function inCut({ judged, needed }: ReturnType<typeof shortShot>): JudgedSet {
  const cut: CutShot = {
    shot: 'TWR_027_0020', shotFrom: 'marker', record: { start: 86_400, end: 86_440 }, rate: frameRate(24), recordDropFrame: false, lead: needed.lead,
    layers: [{
      clip: needed.lead, track: 'V1', source: needed.cut, atRecordIn: needed.cut.start, retime: { kind: 'speed', ratio: 2, words: '200 % speed' }, dissolve: { head: 0, tail: 4 },
      disabled: false, from: 'cut.edl line 4', tiedBy: 'reel A003C012 and source timecode',
    }],
    cdl: { slope: [1.1, 1, 1], offset: [0, 0, 0], power: [1, 1, 1], saturation: 0.9, from: 'cut.edl line 6' }, notes: ['contact at the door'], from: 'cut.edl line 4',
  };
  return { ...judged, shots: judged.shots.map((row) => ({ ...row, inCut: cut, cutFrames: needed.cut })) };
}

const textOf = (judged: JudgedSet, firstFrame = 1001): string => JSON.stringify(shotBlocks(judged, firstFrame));

describe('the sheet of a shot', () => {
  it('is one for each shot of a set, called by its code', () => {
    const shots = shotsOfSet(brokenSplit());
    expect(shots.map(({ shot }) => shot)).toEqual(['TWR_027_0010', 'TWR_027_0020']);
    const [first] = shots;
    if (first === undefined) throw new Error('no shot');
    const { heading, footer } = sheetContents(first.judged, DEFAULT_SHEET_TEMPLATE, { show: 'Tidewrack', shot: first.shot });
    expect(heading).toMatchObject({ name: 'TWR_027_0010', beside: '27B · camera A' });
    expect(footer.left).toContain('TWR_027_0010 · 27B-A');
  });

  it('is none where nothing names a shot', () => {
    const judged = { ...clearSplit(), needed: [] };
    expect(shotsOfSet(judged)).toEqual([]);
    expect(shotBlocks(judged, 1001)).toEqual([]);
  });

  it('numbers frames from the head handle by the policy, also those that are missing', () => {
    const { needed } = shortShot();
    expect(shotNumber(needed.cut.start - needed.handles.head, needed, 1001)).toBe(1001);
    expect(shotNumber(needed.cut.start, needed, 1001)).toBe(1001 + needed.handles.head);
    expect(shotNumber(needed.cut.start, needed, 0)).toBe(needed.handles.head);
  });

  it('says how many handle frames of each pass are there, and marks numbers whose frame is not', () => {
    const { judged } = shortShot();
    expect(textOf(judged)).toMatch(/swapped pass \d+ \+ \d+ there, short by \d+/);
    const table = shotBlocks(judged, 1001).find((block) => block.kind === 'table');
    if (table?.kind !== 'table') throw new Error('no table');
    expect(table.rows.at(-1)?.map(({ text }) => text)).toContain('not there');
    expect(table.rows[0]?.[0]?.text).toBe('1001');
  });

  it('marks retimes, tells the layers with their evidence, and prints colour values as applied to nothing', () => {
    const text = textOf(inCut(shortShot()));
    for (const words of ['Retimed in the cut (lead: 200 % speed)', '01:00:00:00 – 01:00:01:15 (last frame, in), 40 frames', '+ 4 under a transition at the tail', 'reel A003C012 and source timecode', 'slope 1.1, 1, 1', 'saturation 0.9', 'not applied to any picture', 'contact at the door']) {
      expect(text).toContain(words);
    }
  });

  it('and the report say the same of the cut', () => {
    const [set] = reportOf({ clips: [], sets: [inCut(shortShot())], unplaced: [], findings: [] }).sets;
    expect(set?.shots[0]?.inCut).toMatchObject({ recordIn: '01:00:00:00', recordOut: '01:00:01:16', frames: 40, layers: [{ retime: { kind: 'speed', ratio: 2 } }], cdl: { saturation: 0.9 } });
  });
});
