import { describe, expect, it } from 'vitest';
import { comparisonTable, notOnRecord, SourceList } from '../../../src/formats/sheet/comparison.ts';
import { makePass } from '../../support/make-judged.ts';

const lead = makePass({
  file: 'roll/lead.mov', role: 'lead', take: 1, line: 4,
  embedded: { lensSerial: '0012', focalLength: 35, focusDistance: 3, stop: { kind: 'T', number: 2.8 }, ei: 800, whiteBalance: 5600, shutter: { kind: 'angle', degrees: 180 } },
  report: { cameraHeight: 1.42, filters: { text: 'ND.6', ndDensity: 0.6 } },
});
const swapped = makePass({
  file: 'roll/swapped.mov', role: 'swapped', take: 2, line: 5,
  embedded: { lensSerial: '0013', focalLength: 35.5, focusDistance: Infinity, stop: { kind: 'T', number: 4 }, ei: 1600, whiteBalance: 5500, shutter: { kind: 'angle', degrees: 172.8 } },
  report: { cameraHeight: 1.47 },
});
const passes = [{ clip: lead, role: 'lead' }, { clip: swapped, role: 'swapped' }] as const;

function row(name: string, second = swapped) {
  const table = comparisonTable([passes[0], { clip: second, role: 'swapped' }], new SourceList());
  return table.rows.find(([label]) => label?.text === name)?.slice(1);
}

describe('lens and camera compared', () => {
  it('gives each difference in its own unit', () => {
    expect(row('Focal length')?.[1]).toMatchObject({ text: '35.5 mm [1]', note: '+0.5 mm', differs: true });
    expect(row('Camera height')?.[1]).toMatchObject({ note: '+50 mm' });
    expect(row('White balance')?.[1]).toMatchObject({ note: '−100 K' });
    expect(row('Shutter')?.[1]).toMatchObject({ note: '−7.2°' });
    expect(row('Lens serial')?.[1]).toMatchObject({ note: 'differs' });
  });

  it('counts stops by the exact numbers that the engraved ones stand for (ISO 517)', () => {
    // T2.8 is 2^1.5 and T4 is 2^2: one stop; EI 800 to 1600 is one stop.
    expect(row('Stop')?.[1]).toMatchObject({ text: 'T4 [1]', note: '1 stop darker' });
    expect(row('EI')?.[1]).toMatchObject({ note: '+1 stop' });
    const open = makePass({ file: 'a.mov', role: 'swapped', embedded: { stop: { kind: 'T', number: 2 } } });
    expect(row('Stop', open)?.[1]).toMatchObject({ note: '1 stop brighter' });
  });

  it('does not subtract one scale of stops from another, nor infinity from a distance', () => {
    const still = makePass({ file: 'a.mov', role: 'swapped', embedded: { stop: { kind: 'f', number: 2.8 } } });
    expect(row('Stop', still)?.[1]).toMatchObject({ text: 'f/2.8 [1]', note: 'another scale' });
    expect(row('Focus distance')?.[1]).toMatchObject({ text: '∞ [1]', note: 'differs' });
  });

  it('says what is not on record, and leaves out what nobody states', () => {
    expect(row('Filters')?.[1]).toEqual({ text: 'not on record', tone: 'faint' });
    expect(row('Tint')).toBeUndefined();
    expect(notOnRecord(passes)).toContain('Tint');
    expect(notOnRecord(passes)).not.toContain('Filters');
  });

  it('numbers where values came from, one number a place', () => {
    const sources = new SourceList();
    comparisonTable(passes, sources);
    expect(sources.lines()).toEqual(['[1] the clip itself', '[2] reports/camera_A.csv, line 4', '[3] reports/camera_A.csv, line 5']);
  });

  it('marks nothing when the passes are alike', () => {
    const table = comparisonTable([passes[0], { clip: { ...lead, id: 'b' }, role: 'swapped' }], new SourceList());
    expect(table.rows.flat().filter(({ differs }) => differs === true)).toEqual([]);
  });
});
