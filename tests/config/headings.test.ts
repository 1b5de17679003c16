import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { FIELDS, headingOf, normaliseHeading } from '../../src/core/material/heading.ts';
import type { Field } from '../../src/core/material/statement.ts';
import { defaultConfig } from '../support/default-config.ts';

// Fails to compile when a field is added to the model and not here.
const EVERY_FIELD = {
  file: 1, camera: 1, roll: 1, clip: 1, scene: 1, setup: 1, take: 1, slate: 1, pass: 1, forSlate: 1, circled: 1, tcIn: 1, tcOut: 1, fps: 1,
  sensorFps: 1, shutter: 1, lens: 1, lensSerial: 1, focalLength: 1, focusDistance: 1, stop: 1, filters: 1, ei: 1, whiteBalance: 1, tint: 1,
  raster: 1, squeeze: 1, cameraHeight: 1, tilt: 1, rollAngle: 1, subjectDistance: 1, backgroundDistance: 1, method: 1, notes: 1, date: 1,
  dropFrame: 1, timecodeRate: 1, frames: 1, codec: 1, cameraModel: 1, cameraSerial: 1, reel: 1,
} as const satisfies Record<Field, 1>;

const { headings } = defaultConfig();
const written = parse(readFileSync(new URL('../../pipelines/default.yaml', import.meta.url), 'utf8')) as { headings: Record<string, string[]> };

describe('headings', () => {
  it('cover every field of the model', () => {
    expect([...FIELDS].toSorted()).toEqual(Object.keys(EVERY_FIELD).toSorted());
  });

  it.each([
    ['Lens (mm)', 'focalLength'],
    ['T-Stop', 'stop'],
    ['t stop', 'stop'],
    ['Tilt °', 'tilt'],
    ['TILT º', 'tilt'],
    ['Roll °', 'rollAngle'],
    ['Roll', 'roll'],
    ['roll #', 'roll'],
    ['Dutch', 'rollAngle'],
    ['WB', 'whiteBalance'],
    ['Kelvin', 'whiteBalance'],
    ['ISO', 'ei'],
    ['ASA', 'ei'],
    ['Cam', 'camera'],
    ['Tk', 'take'],
    ['Clip Name', 'file'],
    ['File Name', 'file'],
    ['Clip #', 'clip'],
    ['Focus', 'focusDistance'],
    ['Filter', 'filters'],
    ['Height', 'cameraHeight'],
    ['Camera Height', 'cameraHeight'],
    ['Shutter Angle', 'shutter'],
    ['Lens S/N', 'lensSerial'],
    ['Lens Serial', 'lensSerial'],
    ['Focal (mm)', 'focalLength'],
    ['Focal Length (mm)', 'focalLength'],
    ['FOR-SLATE', 'forSlate'],
    ['Set-up', 'setup'],
    ['T.C. In', 'tcIn'],
  ])('%s stands for %s', (heading, field) => {
    expect(headings[normaliseHeading(heading)]).toBe(field);
  });

  it('every canonical heading stands for its own field', () => {
    for (const field of FIELDS) expect(headings[normaliseHeading(headingOf(field))]).toBe(field);
  });

  it('no alias of the default pipeline stands twice, for one field or for two, or repeats a canonical heading', () => {
    const aliases = Object.values(written.headings).flat().map(normaliseHeading);
    const canonical = FIELDS.map((field) => normaliseHeading(headingOf(field)));
    const all = [...aliases, ...canonical];
    expect(all.filter((name, index) => all.indexOf(name) !== index)).toEqual([]);
  });

  it('differ in nothing but case, spaces and the signs _ - . #', () => {
    const noise = fc.array(fc.constantFrom(' ', '_', '-', '.', '#', '\t', '\u00A0', '\uFEFF'), { maxLength: 3 }).map((signs) => signs.join(''));
    fc.assert(
      fc.property(fc.constantFrom(...Object.keys(headings)), fc.array(noise, { minLength: 40, maxLength: 40 }), fc.boolean(), (name, signs, upper) => {
        const noisy = Array.from(name).map((letter, index) => `${upper ? letter.toUpperCase() : letter}${signs[index] ?? ''}`).join('');
        expect(normaliseHeading(noisy)).toBe(name);
      }),
    );
  });
});
