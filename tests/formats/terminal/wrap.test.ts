import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { displayWidth, pad, wrap } from '../../../src/formats/terminal/wrap.ts';

describe('widths of a terminal', () => {
  it.each([
    ['plate', 5],
    ['e\u0301', 1],
    ['照明', 4],
    ['ｗｉｄｅ', 8],
    ['한글', 4],
    ['Дублёр', 6],
    ['🎬', 2],
    ['', 0],
  ])('gives %j %i columns (Unicode UAX #11, combining marks none)', (text, width) => {
    expect(displayWidth(text)).toBe(width);
    expect(displayWidth(pad(text, 12))).toBe(12);
  });

  it('loses no letter and keeps within the width, however long the words', () => {
    const words = fc.array(fc.stringMatching(/^[a-zäж]{1,30}$/), { maxLength: 12 });
    fc.assert(
      fc.property(words, fc.integer({ min: 1, max: 20 }), (texts, width) => {
        const lines = wrap(texts.join(' '), width);
        expect(lines.join('').replaceAll(' ', '')).toBe(texts.join(''));
        for (const line of lines) expect(displayWidth(line)).toBeLessThanOrEqual(width);
      }),
    );
  });
});
