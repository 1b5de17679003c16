import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hasDropFrame, rateFromDecimal } from '../../../src/core/timecode/rate.ts';
import { formatTimecode, framesPerDay, parseLabel, timecodeFormat } from '../../../src/core/timecode/timecode.ts';
import { readFrameCount, readSeconds } from '../../../src/formats/values/count.ts';
import { readTake, readTakeNumber } from '../../../src/formats/values/take.ts';
import { readTimecodeLabel } from '../../../src/formats/values/timecode-label.ts';
import { isUnknown } from '../../../src/formats/values/unknown.ts';
import { readFileName, readLensName, readWords } from '../../../src/formats/values/words.ts';
import { readCircled, readDropFrame } from '../../../src/formats/values/yes-no.ts';
import { readsAs, refuses, saysNothing } from './reads-as.ts';

describe('the mark of a circled take', () => {
  // Common practice, no source.
  readsAs(readCircled, [
    ...['x', 'X', '✓', '✔', '*', 'yes', 'Y', 'true', '1', 'circled', 'Circle', 'print', ' x '].map((text) => [text, true] as const),
    ...['no', 'N', 'NG', 'N.G.', 'false', '0', 'not circled'].map((text) => [text, false] as const),
  ]);
  saysNothing(readCircled, ['', '--', 'n/a']);
  refuses(readCircled, ['maybe', 'see notes']);
});

describe('whether labels count drop frame', () => {
  readsAs(readDropFrame, [['DF', true], ['yes', true], ['drop', true], ['NDF', false], ['no', false], ['Non-Drop', false]]);
  refuses(readDropFrame, ['29.97']);
});

describe('a take in a cell', () => {
  readsAs(readTake, [['3', '3'], ['tk 4', 'tk 4'], ['3 PU', '3 PU'], [' 12 ', '12'], ['003', '003']]);
  saysNothing(readTake, ['', 'n.a.', '--']);
  refuses(readTake, ['last']);
});

describe('the number of a take', () => {
  readsAs(readTakeNumber, [['3', 3], ['tk 4', 4], ['Take 12', 12], ['3 PU', 3], ['#7', 7], ['003', 3], ['3.0', 3]]);
  refuses(readTakeNumber, ['27B-3', 'last', '3-4']);
});

describe('a timecode label in a cell', () => {
  readsAs(readTimecodeLabel, [
    ['14:22:33:04', '14:22:33:04'],
    ['14:22:33;04', '14:22:33;04'],
    ['0:00:00:00', '0:00:00:00'],
    ['14.22.33.04', '14:22:33:04'],
    ['14223304', '14:22:33:04'],
    [' 14:22:33:04 ', '14:22:33:04'],
  ]);
  saysNothing(readTimecodeLabel, ['', '--', 'n.a.']);
  refuses(readTimecodeLabel, ['14:22:33', '25:00:00:00', '14:60:00:00', '14:00:60:00', 'noon', '1422', '14:22:33:04:05']);

  it('keeps every label of a day at every rate, so that reading it loses nothing', () => {
    const format = fc.constantFrom(23.976, 25, 29.97, 50, 59.94, 119.88).chain((decimal) => {
      const rate = rateFromDecimal(decimal);
      if (rate === undefined) throw new Error(`${decimal} is a rate`);
      return fc.boolean().map((drop) => timecodeFormat(rate, drop && hasDropFrame(rate)));
    });
    fc.assert(fc.property(format, fc.nat(), (of, number) => {
      const frame = number % framesPerDay(of);
      const reading = readTimecodeLabel(formatTimecode({ frame, format: of }));
      expect(reading.kind === 'value' ? parseLabel(reading.value, of).frame : reading).toBe(frame);
    }));
  });
});

describe('counts in a cell', () => {
  readsAs(readFrameCount, [['588', 588], ['1,200', 1200], ['8 frames', 8], ['8f', 8], ['0', 0], ['12.0', 12]]);
  refuses(readFrameCount, ['-8', '8.5', 'some']);
});

describe('seconds in a cell', () => {
  readsAs(readSeconds, [['12.5', 12.5], ['12,5 s', 12.5], ['0', 0], ['1:02.5', 62.5], ['-0.5', -0.5]]);
  refuses(readSeconds, ['1:75', 'later', '1:02:03']);
});

describe('words in a cell', () => {
  readsAs(readWords, [['  27B   for  insert ', '27B for insert'], ['Plus\u00A0W', 'Plus W']]);
  // Two files may differ by their spaces alone.
  readsAs(readFileName, [[' A003  C012.mov ', 'A003  C012.mov']]);
  readsAs(readLensName, [['S7i-32                       ', 'S7i-32']]);
  saysNothing(readWords, ['', '   ', '--', 'n.a.', 'N/A', 'no scene name', 'TBD', 'Unknown']);

  it('knows the spellings of "nobody knows", and takes no slate or name for one', () => {
    expect(['', '-', '--', 'n.a.', 'N/A', 'unknown', '?', 'no scene name', 'tbd', '65535/65535', '\u00A0'].filter((text) => !isUnknown(text))).toEqual([]);
    expect(['0', 'A', '27B', 'clear', 'none', 'x', 'NG', 'Nash', '65535'].filter(isUnknown)).toEqual([]);
  });
});
