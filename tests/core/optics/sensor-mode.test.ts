import { describe, expect, it } from 'vitest';
import type { SensorMode } from '../../../src/core/optics/sensor-mode.ts';
import { findSensorArea } from '../../../src/core/optics/sensor-mode.ts';

const MODES: readonly SensorMode[] = [
  { models: ['Tern 6', 'Tern Six'], mode: 'full', widthPx: 6000, heightPx: 4000, area: { widthMm: 36, heightMm: 24 }, source: 'its data sheet' },
  { models: ['Tern 6'], mode: '5K crop, scaled', widthPx: 3840, heightPx: 2160, area: { widthMm: 30, heightMm: 16.875 }, source: 'its data sheet' },
  { models: ['Tern 6'], mode: '4K crop', widthPx: 3840, heightPx: 2160, area: { widthMm: 23, heightMm: 12.94 }, source: 'its data sheet' },
];

describe('the sensor area of a clip', () => {
  it('is found by camera and raster, however the name is written', () => {
    for (const name of ['Tern 6', 'TERN-6', 'tern_six ']) {
      expect(findSensorArea(name, { widthPx: 6000, heightPx: 4000 }, MODES)).toEqual({
        kind: 'known', area: { widthMm: 36, heightMm: 24 }, from: expect.stringContaining('36 × 24 mm (its data sheet)'),
      });
    }
  });

  it('is the narrower of two modes with one raster, and says that it is a choice', () => {
    const found = findSensorArea('Tern 6', { widthPx: 3840, heightPx: 2160 }, MODES);
    expect(found).toMatchObject({ kind: 'assumed', area: { widthMm: 23 }, words: expect.stringContaining('4K crop 23 × 12.94 mm or 5K crop, scaled 30 × 16.875 mm') });
    expect(findSensorArea('Tern 6', { widthPx: 3840, heightPx: 2160 }, MODES.toReversed())).toEqual(found);
  });

  it('is taken for Super 35 width when the camera, the mode or the name is unknown, and says so', () => {
    const raster = { widthPx: 4096, heightPx: 2160 };
    for (const [model, words] of [[undefined, 'not on record'], ['Tern 60', 'no sensor size is listed for Tern 60'], ['Tern 6', 'no mode of Tern 6 with 4096 × 2160 px']] as const) {
      const found = findSensorArea(model, raster, MODES);
      expect(found).toMatchObject({ kind: 'assumed', area: { widthMm: 24.89, heightMm: expect.closeTo(13.126, 3) } });
      expect(found.kind === 'assumed' ? found.words : '').toContain(words);
    }
  });
});
