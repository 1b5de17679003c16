import { describe, expect, it } from 'vitest';
import { formatDayTable } from '../../../src/formats/terminal/table.ts';
import { displayWidth } from '../../../src/formats/terminal/wrap.ts';
import { finding, makeJudgedDay, makePass } from '../../support/make-judged.ts';
import { shuffledDay } from '../../support/shuffle-day.ts';

const PLAIN = { width: 100, colour: false } as const;

describe('the day as a table', () => {
  it('has a row a set, worst first, with the verdict in words', () => {
    const rows = formatDayTable(makeJudgedDay(), PLAIN).split('\n').filter((line) => /^\d/.test(line));
    expect(rows.slice(0, 5).map((row) => row.split(/\s+/).slice(0, 4))).toEqual([
      ['27B', 'A', 'split', 'NO'],
      ['50C', 'A', 'handheld', 'NO'],
      ['61', 'A', 'head-replacement', 'NO'],
      ['44A', 'B', 'moco', 'LOOK'],
      ['31', 'A', 'split', 'YES'],
    ]);
  });

  it('tells every stop and warn with its remedy, and leaves notes to the report', () => {
    const table = formatDayTable(makeJudgedDay(), PLAIN);
    expect(table).toContain('stop  stop-differs: 1 stop, allowed 0.33 stops');
    expect(table).toContain('→ shoot the swapped pass again at T2.8');
    expect(table).toContain('warn  unreadable-value');
    expect(table).not.toContain('sync-assumed');
  });

  it('says why a clip is in no set, counts everything, and cautions that no card may be erased on its word', () => {
    const table = formatDayTable(makeJudgedDay(), PLAIN);
    expect(table).toMatch(/Clips in no set\n {2}A_0007\/A007C021_261125_R7QK\.mov\n {8}cut off/);
    expect(table).toContain('5 sets: 3 no, 1 look, 1 yes · 27 clips, 2 in no set · 5 stop, 4 warn, 2 notes');
    expect(table.replaceAll('\n', ' ')).toContain('never erase a card on its word. It describes plates; it clears nothing for safety.');
  });

  it('is the same whatever the order of the day', () => {
    const day = makeJudgedDay();
    expect(formatDayTable(shuffledDay(day, 7), PLAIN)).toBe(formatDayTable(day, PLAIN));
  });

  it('keeps within the width, from a phone to a wide screen', () => {
    for (const width of [40, 60, 80, 132, 200]) {
      for (const line of formatDayTable(makeJudgedDay(), { width, colour: false }).split('\n')) expect(displayWidth(line)).toBeLessThanOrEqual(width);
    }
  });

  it('holds no escape sequence without colour, and the same words with it', () => {
    const plain = formatDayTable(makeJudgedDay(), PLAIN);
    expect(plain).not.toContain('\u001b');
    const coloured = formatDayTable(makeJudgedDay(), { width: 100, colour: true });
    const [first, ...inked] = coloured.split('\u001b[');
    expect(inked.length).toBeGreaterThan(10);
    expect([first, ...inked.map((text) => text.replace(/^[0-9;]*m/, ''))].join('')).toBe(plain);
  });

  it('shows control characters of a file name instead of obeying them', () => {
    const file = 'roll\u001b[2J\u0007/a\nb\u202etxt.mov';
    const table = formatDayTable(
      { clips: [makePass({ file, role: 'unknown' })], sets: [], unplaced: [{ clip: file, why: 'no \u009bslate' }], findings: [finding('unknown-slate', 'warn', [file], undefined, undefined, 'lost', 'slate it', [])] },
      PLAIN,
    );
    expect(table).toContain('roll␛[2J␇/a␊b<U+202E>txt.mov');
    expect(table).toContain('no <U+009B>slate');
    expect(table.replaceAll('\n', '')).not.toMatch(/\p{Cc}|\u202e/u);
  });

  it('says so when there is no set at all', () => {
    expect(formatDayTable({ clips: [], sets: [], unplaced: [], findings: [] }, PLAIN)).toContain('No plate set was found.\n\n0 sets: 0 no, 0 look, 0 yes · 0 clips');
  });
});
