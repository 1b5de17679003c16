import { describe, expect, it } from 'vitest';
import { cameraStateAt, cameraStateOf, planesOfClip, plateOf } from '../../../src/core/checks/camera-of-clip.ts';
import type { Clip } from '../../../src/core/material/clip.ts';
import { defaultConfig } from '../../support/default-config.ts';
import { chosen, makeFullClip } from '../../support/make-matched.ts';

const full = makeFullClip(1, 'lead');
const { sensorModes } = defaultConfig();
const track = (values: Clip['tracks'][number]['values']): Clip['tracks'] => [{ source: { kind: 'sidecar', file: 'lens.csv', place: '' }, frames: 3, values, stopKind: 'T' }];

describe('the camera of a clip', () => {
  it('is what is on record, in the units of the optics', () => {
    expect(cameraStateOf(full)).toEqual({
      focalLengthMm: 35, focusM: 3, iris: { number: 2.8, kind: 'T' }, ndDensity: 0.6, shutterDeg: 180, sensorFps: 24, ei: 800, heightM: 1.5, tiltDeg: -2, rollDeg: 0,
    });
    expect(cameraStateOf({ ...full, lens: {}, exposure: {}, position: {} })).toEqual({ sensorFps: 24 });
  });

  it('leaves out what no camera can have, and of a focus inside the lens the focus', () => {
    const wrong = { ...full, lens: { ...full.lens, stop: chosen({ kind: 'T' as const, number: 0 }) }, position: { tiltDeg: chosen(409.5), heightM: chosen(Number.NaN) } };
    expect(cameraStateOf(wrong)).toEqual({ focalLengthMm: 35, focusM: 3, ndDensity: 0.6, shutterDeg: 180, sensorFps: 24, ei: 800 });
    const inside = cameraStateOf({ ...full, lens: { focalLengthMm: chosen(100), focusDistanceM: chosen(0.2) }, exposure: {}, position: {} });
    expect(inside).toEqual({ focalLengthMm: 100, sensorFps: 24 });
  });

  it('follows the lens data along the take', () => {
    const zoom = { ...full, lens: {}, exposure: {}, position: {}, tracks: track({ focalLength: [Number.NaN, 40, 41], stop: [4, 4, 5.6] }) };
    expect(cameraStateOf(zoom)).toEqual({ focalLengthMm: 40, iris: { number: 4, kind: 'T' }, sensorFps: 24 });
    expect(cameraStateAt(zoom, 2)).toEqual({ focalLengthMm: 41, iris: { number: 5.6, kind: 'T' }, sensorFps: 24 });
    expect(cameraStateAt({ ...full, tracks: track({ tilt: [0, 1, Number.NaN] }) }, 2).tiltDeg).toBe(-2);
  });
});

describe('the plate of a clip', () => {
  it('says what it takes for granted when no sensor size is listed', () => {
    const found = plateOf(full, sensorModes);
    expect(found?.plate).toEqual({ widthPx: 4096, heightPx: 2160, sensor: { widthMm: 24.89, heightMm: (24.89 * 2160) / 4096 }, squeeze: 1 });
    expect(found?.assumptions).toEqual(['no sensor size is listed for Orlop S1: the sensor is taken to be as wide as Super 35 film, 24.89 mm (common practice)']);
  });

  it('takes the size from the table, and the squeeze of the lens while the raster is as the sensor saw it', () => {
    const known = { ...full, picture: { raster: chosen({ width: 4448, height: 3096 }), cameraModel: chosen('ALEXA LF') }, lens: { squeeze: chosen(2) } };
    expect(plateOf(known, sensorModes)).toMatchObject({ plate: { sensor: { widthMm: 36.7, heightMm: 25.54 }, squeeze: 2 }, assumptions: [] });
  });

  it('is none without a raster', () => {
    expect(plateOf({ ...full, picture: {} }, sensorModes)).toBeUndefined();
    expect(plateOf({ ...full, picture: { raster: chosen({ width: Number.NaN, height: 0 }) } }, sensorModes)).toBeUndefined();
  });
});

describe('the planes of a clip', () => {
  it('are as taped, else where the lens is focused', () => {
    expect(planesOfClip(full)).toEqual({ nearM: 3, farM: 6, assumptions: [] });
    expect(planesOfClip({ ...full, position: {} })).toEqual({ nearM: 3, assumptions: ['subject distance is not on record: the subject is taken to stand where the lens is focused, 3 m'] });
    expect(planesOfClip({ ...full, lens: {}, position: { subjectDistanceM: chosen(-1), backgroundDistanceM: chosen(Number.NaN) } })).toEqual({ assumptions: [] });
  });
});
