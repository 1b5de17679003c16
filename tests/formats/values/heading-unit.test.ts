import { describe, expect, it } from 'vitest';
import { readHeading } from '../../../src/formats/values/heading-unit.ts';
import { defaultConfig } from '../../support/default-config.ts';

const { headings } = defaultConfig();

describe('a heading with its unit', () => {
  it.each([
    ['focal_length', { field: 'focalLength' }],
    ['Focal (mm)', { field: 'focalLength', unit: 'mm' }],
    ['Lens (mm)', { field: 'focalLength', unit: 'mm' }],
    ['Lens', { field: 'lens' }],
    ['Focus Distance (ft)', { field: 'focusDistance', unit: 'ft' }],
    ['Focus Distance [m]', { field: 'focusDistance', unit: 'm' }],
    ['FOCUS_DISTANCE_M', { field: 'focusDistance', unit: 'm' }],
    ['Height cm', { field: 'cameraHeight', unit: 'cm' }],
    ['Camera Height (cm)', { field: 'cameraHeight', unit: 'cm' }],
    ['Exposure Index ASA', { field: 'ei', unit: 'EI' }],
    ['Tilt °', { field: 'tilt', unit: 'deg' }],
    ['Tilt º', { field: 'tilt', unit: 'deg' }],
    ['Roll', { field: 'roll' }],
    ['Roll °', { field: 'rollAngle', unit: 'deg' }],
    ['Roll (degrees)', { field: 'rollAngle', unit: 'deg' }],
    ['Roll Angle', { field: 'rollAngle', unit: 'deg' }],
    ['T-Stop', { field: 'stop', unit: 'T' }],
    ['F-Stop', { field: 'stop', unit: 'f' }],
    ['Iris', { field: 'stop' }],
    ['Shutter Angle', { field: 'shutter', unit: 'deg' }],
    ['Shutter (1/sec)', { field: 'shutter', unit: '1/s' }],
    ['Shutter (ms)', { field: 'shutter', unit: 'ms' }],
    ['WB (K)', { field: 'whiteBalance', unit: 'K' }],
    ['ND', { field: 'filters', unit: 'nd' }],
    ['Filter', { field: 'filters' }],
    ['Clip #', { field: 'clip' }],
    ['TC In', { field: 'tcIn', unit: 'in' }],
    ['Notes (VFX)', { field: 'notes' }],
    ['Weather', {}],
    ['', {}],
  ])('%j', (heading, meaning) => {
    expect(readHeading(heading, headings)).toEqual(meaning);
  });
});
