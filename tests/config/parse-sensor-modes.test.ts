import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseSensorModes } from '../../src/config/parse-sensor-modes.ts';
import { UsageError } from '../../src/core/material/errors.ts';
import { findSensorArea } from '../../src/core/optics/sensor-mode.ts';

const table = parseSensorModes(readFileSync(new URL('../../pipelines/sensor-modes.yaml', import.meta.url), 'utf8'), 'sensor-modes.yaml');

function diagonalOf(model: string, widthPx: number, heightPx: number): number {
  const found = findSensorArea(model, { widthPx, heightPx }, table);
  return found.kind === 'known' ? Math.hypot(found.area.widthMm, found.area.heightMm) : Number.NaN;
}

describe('the table of sensor modes that comes with gemel', () => {
  it('has the image circles newsshooter.com published on 31 July 2018', () => {
    expect(diagonalOf('Alexa LF Plus W', 4448, 3096)).toBeCloseTo(44.71, 2);
    expect(diagonalOf('Alexa LF', 3840, 2160)).toBeCloseTo(36.35, 2);
    // Printed 39.76; the sizes it is made of are rounded themselves.
    expect(Math.abs(diagonalOf('Alexa LF', 4448, 1856) - 39.76)).toBeLessThan(0.01);
  });

  it('has the shape of 1.456 that the maker\'s forum gives (forum.arri.com, post 3229)', () => {
    const found = findSensorArea('Alexa 35', { widthPx: 4608, heightPx: 3164 }, table);
    expect(found.area.widthMm / found.area.heightMm).toBeCloseTo(1.456, 3);
  });

  it('has square pixels in every mode, within the rounding of the sizes', () => {
    for (const { mode, widthPx, heightPx, area } of table) {
      expect((area.widthMm / widthPx) * (heightPx / area.heightMm), mode).toBeGreaterThan(0.995);
      expect((area.widthMm / widthPx) * (heightPx / area.heightMm), mode).toBeLessThan(1.005);
    }
  });

  it('names who published each size', () => {
    expect(table.length).toBeGreaterThan(12);
    expect(table.filter(({ source }) => source.length < 10)).toEqual([]);
  });
});

describe('a table of sensor modes', () => {
  it('is refused with every problem and its line', () => {
    const text = 'modes:\n  - models: []\n    mode: full\n    raster: [4448, -1]\n    area: [36.7]\n    sauce: a page\n';
    expect(() => parseSensorModes(text, 'mine.yaml')).toThrow(UsageError);
    for (const part of ['mine.yaml:2', 'mine.yaml:4', 'mine.yaml:5', 'mine.yaml:6', 'source']) {
      expect(() => parseSensorModes(text, 'mine.yaml')).toThrow(part);
    }
  });
});
