import { readFileSync, readdirSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { parseOpenTrackIo } from '../../../src/formats/opentrackio/parse-opentrackio.ts';
import { madeSample } from './made-samples.ts';

// The schema and the examples published by SMPTE (github.com/SMPTE/ris-osvp-metadata-camdkit, commit f9f9480).
const FIXTURES = new URL('../../fixtures/opentrackio/', import.meta.url);
const SAMPLES = new URL('../../../sample-media/day-04/tracking/', import.meta.url);

function text(name: string, folder = FIXTURES): string {
  return readFileSync(new URL(name, folder), 'utf8');
}

// `strict: false`, since the schema has a keyword of its own for units.
const isValid = new Ajv2020({ strict: false }).compile(JSON.parse(text('schema.json')));

describe('OpenTrackIO as SMPTE published it', () => {
  it('has an example for live use that is valid and is read with all a move needs', () => {
    const file = 'recommended_dynamic_example.json';
    expect(isValid(JSON.parse(text(file)))).toBe(true);
    const { moves, problems } = parseOpenTrackIo([{ file, text: text(file) }]);
    expect(problems).toEqual([]);
    expect(moves).toMatchObject([{ counted: 'timecode', rate: { num: 24_000, den: 1001 }, samples: [{ focalLengthMm: 24.305, focusM: 10, fStop: 4, entrancePupilMm: expect.closeTo(123, 9) }] }]);
  });

  it('has a full example that is valid and stretches its chain, which no camera does: that is said, and the sample left out', () => {
    const file = 'complete_static_example.json';
    expect(isValid(JSON.parse(text(file)))).toBe(true);
    expect(parseOpenTrackIo([{ file, text: text(file) }])).toMatchObject({ moves: [], problems: [{ severity: 'warn', file, found: 'a scale of Crane Arm that is not 1' }] });
  });

  it('allows the samples that these tests make', () => {
    for (const frame of [0, 7, 240]) expect(isValid(madeSample(frame)), JSON.stringify(isValid.errors)).toBe(true);
  });

  it('allows every sample of the sample day, and each is read without a word', () => {
    const files = readdirSync(SAMPLES).toSorted();
    expect(files).toHaveLength(2);
    for (const file of files) {
      for (const line of text(file, SAMPLES).trim().split('\n')) expect(isValid(JSON.parse(line)), `${file}: ${JSON.stringify(isValid.errors)}`).toBe(true);
      const { moves, problems } = parseOpenTrackIo([{ file, text: text(file, SAMPLES) }]);
      expect(problems).toEqual([]);
      expect(moves).toMatchObject([{ samples: { length: 60 }, holes: [] }]);
    }
  });

  it.each([
    ['a focus of 0 m', { lens: { focusDistance: 0 } }],
    ['frames of 120', { timing: { timecode: { hours: 1, minutes: 0, seconds: 0, frames: 120, frameRate: { num: 24, denom: 1 } } } }],
  ])('refuses %s, and what is read of it is a problem with its place', (_what, change) => {
    const sample = madeSample(0, change);
    expect(isValid(sample)).toBe(false);
    expect(parseOpenTrackIo([{ file: 'x.json', text: JSON.stringify(sample) }]).problems).not.toEqual([]);
  });
});
