import { describe, expect, it } from 'vitest';
import type { ReadClip } from '../../../src/core/material/clip.ts';
import type { ClipNote } from '../../../src/core/material/day.ts';
import { groupDay } from '../../../src/steps/group/group-day.ts';
import type { Facts } from '../../support/make-clips.ts';
import { groupRules, readClip, readDay, reportRow, sidecar } from '../../support/make-clips.ts';

/** The files of the clips whose EI came to be 1234, which the note alone states. */
function tiedTo(clips: readonly ReadClip[], note: ClipNote, others: readonly ClipNote[] = []): readonly string[] {
  const day = groupDay(readDay({ clips, notes: [...others, note] }), groupRules());
  return day.clips.filter(({ exposure }) => exposure.ei?.value === 1234).map(({ file }) => file);
}

const row = (facts: Facts, file?: string): ClipNote => reportRow(7, { ...facts, ei: 1234 }, file);
const FULL = 'A003C012_261125_R7QK';
const TWO = [readClip(`${FULL}.mov`, { slate: '40A-1' }), readClip('A003C013_261125_R7QK.mov')];

describe('a row names its clip', () => {
  it.each<[string, Facts]>([
    ['file name', { file: `${FULL}.mov` }],
    ['file name without extension', { file: FULL }],
    ['file name in another case and extension', { file: 'a003c012_261125_r7qk.MXF' }],
    ['path on a card', { file: `/Volumes/CARD_1/A003/${FULL}.mov` }],
    ['path with backslashes', { file: `D:\\A003\\${FULL}.mov` }],
    ['short name', { file: 'A003C012' }],
    ['short name in the clip column', { clip: 'A003C012' }],
    ['whole name in the clip column', { clip: FULL }],
    ['roll and clip', { roll: 'A003', clip: 'C012' }],
    ['camera, roll and clip as bare numbers', { camera: 'A', roll: '3', clip: '12' }],
    ['roll, and a bare number where the name should be', { roll: 'A003', file: 'C012' }],
  ])('by %s', (_how, facts) => {
    expect(tiedTo(TWO, row(facts))).toEqual([`${FULL}.mov`]);
  });

  it.each<[string, Facts]>([
    ['another card of the same roll and clip number', { file: 'A003C012_261130_XXXX' }],
    ['another camera', { camera: 'B', roll: '3', clip: '12' }],
    ['a slate that only another camera shot', { camera: 'B', slate: '40A-1' }],
    ['nothing', {}],
    ['a take without a slate', { take: '3' }],
  ])('but not when it names %s', (_what, facts) => {
    expect(tiedTo(TWO, row(facts))).toEqual([]);
  });

  it('by slate and take, and by camera when both shot it', () => {
    const clips = [readClip('A003C012.mov', { slate: '27B-3' }), readClip('B003C012.mov', { slate: '27B-3' }), readClip('A003C013.mov', { slate: '27B-4' })];
    expect(tiedTo(clips, row({ scene: '27', setup: 'B', take: '3', camera: 'B' }))).toEqual(['B003C012.mov']);
    expect(tiedTo(clips, row({ slate: '27B', take: '4' }))).toEqual(['A003C013.mov']);
  });

  it('by slate and take alone for every camera, but then only what is said of the take', () => {
    const clips = [readClip('A003C012.mov', { slate: '27B-3' }), readClip('B003C012.mov', { slate: '27B-3' })];
    const day = groupDay(readDay({ clips, notes: [reportRow(2, { slate: '27B-3', pass: 'swapped', focalLength: 35 })] }), groupRules());
    expect(day.clips.map(({ role, lens }) => [role, lens.focalLengthMm])).toEqual([['swapped', undefined], ['swapped', undefined]]);
    expect(day.findings).toEqual([]);
  });

  it('by the pass, when takes start again for each pass', () => {
    const clips = [readClip('A003C012.mov', { slate: '27B-1' }), readClip('A003C013.mov', { slate: '27B-SW-1' })];
    expect(tiedTo(clips, row({ slate: '27B', take: '1', pass: 'swapped' }))).toEqual(['A003C013.mov']);
    expect(tiedTo(clips, row({ slate: '27B', take: '1', pass: 'lead' }))).toEqual(['A003C012.mov']);
  });

  it('by camera and a timecode inside the clip', () => {
    const clips = ['10:00:00:00', '10:00:10:00', '23:59:55:00'].map((tcIn, index) => readClip(`A003C01${index}.mov`, { tcIn }));
    expect(tiedTo(clips, row({ camera: 'A', tcIn: '10:00:09:23', slate: '27B-3' }))).toEqual(['A003C010.mov']);
    expect(tiedTo(clips, row({ camera: 'A', tcIn: '10:00:10:00' }))).toEqual(['A003C011.mov']);
    expect(tiedTo(clips, row({ camera: 'A', tcIn: '00:00:04:23' }))).toEqual(['A003C012.mov']);
    expect(tiedTo(clips, row({ camera: 'B', tcIn: '10:00:10:00' }))).toEqual([]);
    expect(tiedTo(clips, row({ tcIn: '10:00:10:00' }))).toEqual([]);
  });

  it('not by a timecode or a slate of another day', () => {
    const clips = [readClip('A003C010.mov', { tcIn: '10:00:00:00', date: '2026-11-25', slate: '27B-3' })];
    expect(tiedTo(clips, row({ camera: 'A', tcIn: '10:00:00:00', date: '2026-11-26' }))).toEqual([]);
    expect(tiedTo(clips, row({ slate: '27B-3', date: '2026-11-26' }))).toEqual([]);
    expect(tiedTo(clips, row({ slate: '27B-3', date: '25.11.2026' }))).toEqual(['A003C010.mov']);
  });

  it('not by a timecode that lies in a clip with another slate', () => {
    const clips = [readClip('A003C010.mov', { tcIn: '10:00:00:00', slate: '31A-1' })];
    expect(tiedTo(clips, row({ camera: 'A', tcIn: '10:00:00:00', slate: '27B-3' }))).toEqual([]);
  });
});

describe('a row that gives a clip number and no roll', () => {
  const card = [readClip('A001C010.mov', { slate: '16C-1' }), readClip('A001C011.mov'), readClip('A001C012.mov')];
  const twoRolls = [readClip('one/A001C010.mov', { slate: '16C-1' }), readClip('two/A002C010.mov')];

  it('is about the only clip of that number, whatever slate another clip has', () => {
    expect(tiedTo(card, row({ clip: 'C011', slate: '16C-SW', take: '1' }))).toEqual(['A001C011.mov']);
    expect(tiedTo(card, row({ clip: '11', slate: '16C-1' }))).toEqual(['A001C011.mov']);
    expect(tiedTo(card, row({ file: 'C011' }))).toEqual(['A001C011.mov']);
  });

  it('is said to be assumed', () => {
    const day = groupDay(readDay({ clips: card, notes: [row({ clip: 'C011' })] }), groupRules());
    expect(day.findings).toMatchObject([{ severity: 'note', evidence: ['report.csv, line 7'], consequence: expect.stringContaining('This is assumed.') }]);
    expect(day.unusedRows).toBeUndefined();
  });

  it('is never about a clip of another number, though the slate is the same', () => {
    expect(tiedTo(card, row({ clip: 'C019', slate: '16C-1' }))).toEqual([]);
    expect(tiedTo(card, row({ roll: 'A007', slate: '16C-1' }))).toEqual([]);
    expect(tiedTo(card, row({ roll: 'A001', slate: '16C-1' }))).toEqual(['A001C010.mov']);
  });

  it('still goes by slate where clips have no numbers', () => {
    expect(tiedTo([readClip('plate.mov', { slate: '16C-1' })], row({ clip: '5', slate: '16C-1' }))).toEqual(['plate.mov']);
  });

  it('is about none of several rolls, unless the slate or its own folder tells', () => {
    expect(tiedTo(twoRolls, row({ clip: 'C010' }))).toEqual([]);
    expect(tiedTo(twoRolls, row({ clip: 'C010', slate: '99A-1' }))).toEqual([]);
    expect(tiedTo(twoRolls, row({ clip: 'C010', slate: '16C-1' }))).toEqual(['one/A001C010.mov']);
    expect(tiedTo(twoRolls, row({ clip: 'C010' }, 'two/report.csv'))).toEqual(['two/A002C010.mov']);
    expect(tiedTo(twoRolls, row({ clip: 'C010', camera: 'B' }))).toEqual([]);
  });

  it('is about no clip of another card than the one it lies on', () => {
    expect(tiedTo([...twoRolls, readClip('two/A002C011.mov')], row({ clip: 'C011' }, 'one/report.csv'))).toEqual([]);
  });

  it('is used for none when another row gives that number too', () => {
    const other = reportRow(3, { clip: 'C011', slate: '15B-1' });
    expect(tiedTo(card, row({ clip: 'C011', slate: '16C-2' }), [other])).toEqual([]);
    const day = groupDay(readDay({ clips: card, notes: [other, row({ clip: 'C011' })] }), groupRules());
    expect(day.findings.map(({ code, severity }) => [code, severity])).toEqual([['unused-row', 'warn'], ['unused-row', 'warn']]);
    expect(day.unusedRows).toBe(2);
  });
});

describe('clips that share a name', () => {
  const clips = [readClip('day1/A003C012.mov', { tcIn: '10:00:00:00', date: '2026-11-25' }), readClip('day2/A003C012.mov', { tcIn: '14:00:00:00', date: '2026-11-26' })];

  it('are told apart by the nearest folder', () => {
    expect(tiedTo(clips, row({ file: 'A003C012' }, 'day2/report.csv'))).toEqual(['day2/A003C012.mov']);
    expect(tiedTo(clips, { ...sidecar('day1/A003C012.xml', { ei: 1234 }) })).toEqual(['day1/A003C012.mov']);
  });

  it.each<[string, Facts]>([
    ['the folder in the cell', { file: 'day2/A003C012.mov' }],
    ['date', { file: 'A003C012', date: '2026-11-26' }],
    ['timecode', { file: 'A003C012', tcIn: '14:00:00:00' }],
  ])('are told apart by %s', (_how, facts) => {
    expect(tiedTo(clips, row(facts))).toEqual(['day2/A003C012.mov']);
  });

  it('and cannot be told apart are named in one finding, and the row is used for neither', () => {
    const note = row({ file: 'A003C012' });
    expect(tiedTo(clips, note)).toEqual([]);
    const day = groupDay(readDay({ clips, notes: [note] }), groupRules());
    expect(day.findings).toMatchObject([
      { code: 'unused-row', severity: 'warn', subject: ['day1/A003C012.mov', 'day2/A003C012.mov'], evidence: ['report.csv, line 7: file A003C012'] },
    ]);
  });

  it('because they are copies of one recording both get what is said', () => {
    const copies = [readClip('card/A003C012.mov', { tcIn: '10:00:00:00' }), readClip('backup/A003C012.mov', { tcIn: '10:00:00:00' })];
    expect(tiedTo(copies, row({ file: 'A003C012' }))).toEqual(['backup/A003C012.mov', 'card/A003C012.mov']);
  });
});

describe('a sidecar', () => {
  it('of a sequence lies in its folder or beside it', () => {
    const clips = [readClip('plates/27B-3/27B-3.####.exr', {}, { kind: 'sequence' }), readClip('other/27B-3/27B-3.####.exr', {}, { kind: 'sequence' })];
    expect(tiedTo(clips, sidecar('plates/27B-3.xml', { ei: 1234 }))).toEqual(['plates/27B-3/27B-3.####.exr']);
    expect(tiedTo(clips, sidecar('other/27B-3/27B-3.xml', { ei: 1234 }))).toEqual(['other/27B-3/27B-3.####.exr']);
  });

  it('finds its clip in another folder when there is only one of the name', () => {
    expect(tiedTo(TWO, sidecar(`xml/${FULL}.xml`, { ei: 1234 }))).toEqual([`${FULL}.mov`]);
  });

  it('finds a name that another system wrote in decomposed letters', () => {
    expect(tiedTo([readClip('caf\u00E9.mov')], sidecar('cafe\u0301.xml', { ei: 1234 }))).toEqual(['caf\u00E9.mov']);
  });

  it('may bring the slate by which a log row finds the clip', () => {
    const slated = sidecar(`${FULL}.xml`, { scene: '27B', take: '3' });
    expect(tiedTo(TWO, row({ slate: '27B-3' }), [slated])).toEqual([`${FULL}.mov`]);
  });
});
