import { describe, expect, it } from 'vitest';
import { clipOptics } from '../../../src/core/checks/clip-optics.ts';
import type { Clip } from '../../../src/core/material/clip.ts';
import { formatClipFacts } from '../../../src/formats/terminal/clip-facts.ts';
import { chosen, makeFullClip } from '../../support/make-matched.ts';
import { defaultOptics } from '../../support/optics-settings.ts';

const full = makeFullClip(1, 'lead');
const shown = (clip: Clip, width = 120): string => formatClipFacts(clip, { width, colour: false }, clipOptics(clip, defaultOptics()));
const line = (text: string, name: string): string => text.split('\n').find((one) => one.trim().startsWith(name)) ?? '';

describe('what read prints of a lens', () => {
  const text = shown(full);

  it('is the field of view, the depth of field and the hyperfocal distance, each with what it rests on', () => {
    // 2 · atan(24.89 / 70) = 39.15°, docs/optics.md; 24.89 mm at 4096 × 2160 is 13.13 mm high: 2 · atan(13.13 / 70) = 21.24°.
    expect(line(text, 'field of view')).toContain('39.15° × 21.24°');
    // u = 2964.6 mm, k = √8 · 0.025 / 1225, near 1 / (1/u + (1 − 35/u) · k) = 2535.8, far 3567.9; both + 35.4 mm to the sensor.
    expect(line(text, 'depth of field')).toContain('2.57 m to 3.6 m');
    // 1225 / (√8 · 0.025) + 35 = 17 360 mm from the lens, + 35.1 mm.
    expect(line(text, 'hyperfocal')).toContain('17.4 m');
    expect(text).toContain('circle of confusion 0.025 mm, 4.11 px here');
    expect(text).toContain('focused at 3 m from the sensor');
  });

  it('is how exactly each setting must be met, and the limit it keeps', () => {
    // Level enough: 1 px · 1 / (5759.7 · (1/3000 − 1/6000)) = 1.04 mm to the side.
    expect(line(text, 'keep side to side')).toMatch(/± 0\.1 cm ◇\s+1 px of parallax/);
    expect(line(text, 'keep stop')).toMatch(/± 0\.1 stop\s+0\.1 stop/);
    expect(line(text, 'keep roll')).toMatch(/± 0\.049° ◇\s+2 px of shift/);
  });

  it('prints every assumption, what is missing and what cannot be', () => {
    expect(text.replace(/\s+/g, ' ')).toContain('assumed: no sensor size is listed for Orlop S1: the sensor is taken to be as wide as Super 35 film, 24.89 mm (common practice)');
    const bare = shown({ ...full, lens: { focalLengthMm: chosen(-35) }, position: {}, picture: {} }).replace(/\s+/g, ' ');
    expect(bare).toContain('the raster is not on record: nothing can be said in px');
    expect(bare).toContain('not on record: focal length, focus distance, stop');
    expect(bare).toContain('impossible, not used: focal length must be a length from 0.1 mm to 100 m, found -35');
    expect(bare).not.toMatch(/NaN|Infinity/);
  });

  it('keeps to the width of the terminal', () => {
    for (const width of [80, 100, 140]) {
      const inNotes = shown(full, width).split('\n').filter((one) => one.startsWith('    '));
      expect(Math.max(...inNotes.map((one) => one.length))).toBeLessThanOrEqual(width);
    }
  });
});
