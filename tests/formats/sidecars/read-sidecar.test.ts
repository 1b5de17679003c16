import { describe, expect, it } from 'vitest';
import type { Statement } from '../../../src/core/material/statement.ts';
import type { SidecarMapping } from '../../../src/formats/sidecars/mapping.ts';
import { readSidecar } from '../../../src/formats/sidecars/read-sidecar.ts';
import type { XmlElement } from '../../../src/formats/sidecars/xml-element.ts';
import { defaultConfig } from '../../support/default-config.ts';
import { facts } from '../tables/read.ts';
import { element } from './element.ts';

const { headings, mappings } = defaultConfig();

function read(root: XmlElement, file = 'day/A003C012_261125_R7QK.xml', own: readonly SidecarMapping[] = mappings): ReturnType<typeof readSidecar> {
  return readSidecar(root, file, own, headings);
}

const find = (statements: readonly Statement[], field: string): Statement | undefined => statements.find((statement) => statement.field === field);

describe('a sidecar of an unknown kind', () => {
  it('speaks where an element or attribute is named like a canonical heading', () => {
    const root = element('ClipInfo', { Camera: 'A' }, [
      element('Focal_Length', {}, [], '35mm'),
      element('focus-distance', {}, [], `12'6"`),
      element('Slate', { Take: '3', colour: 'red' }, [], '27B'),
      element('Lens', {}, [element('LensSerial', {}, [], '4711')]),
      element('SensorFps', {}, [], '23.98'),
      element('Stop', {}, [], 'T2.8'),
      element('Camera_Height', {}, [], '--'),
    ]);
    const { note, problems } = read(root);
    expect(problems).toEqual([]);
    expect(note).toMatchObject({ kind: 'sidecar', file: 'day/A003C012_261125_R7QK.xml', folder: 'day', stem: 'A003C012_261125_R7QK', place: '', tracks: [] });
    expect(facts(note.statements)).toEqual({
      camera: 'A', focalLength: 35, focusDistance: 3.81, slate: '27B', take: '3', lensSerial: '4711', sensorFps: { num: 24000, den: 1001 }, stop: { kind: 'T', number: 2.8 },
    });
    expect(find(note.statements, 'take')).toEqual({ field: 'take', value: '3', raw: '3', source: { kind: 'sidecar', file: 'day/A003C012_261125_R7QK.xml', place: 'element Slate@Take' } });
  });

  it('does not take aliases for headings, since "rate" and "for" mean other things in other files', () => {
    expect(read(element('x', {}, [element('Rate', {}, [], 'slow'), element('For', {}, [], 'you'), element('Comment', {}, [], 'hello')]))).toMatchObject({ note: { statements: [] }, problems: [] });
  });

  it('names the element it cannot read, and notes a distance without unit', () => {
    const { note, problems } = read(element('x', {}, [element('Focal_Length', {}, [], 'wide'), element('Camera_Height', {}, [], '1.42')]));
    expect(facts(note.statements)).toEqual({ cameraHeight: 1.42 });
    expect(problems.map(({ severity, place, found }) => [severity, place, found])).toEqual([['warn', 'element Focal_Length', '"wide"'], ['note', 'element Camera_Height', '"1.42"']]);
  });

  it('keeps two different words on one field, and says the same only once', () => {
    const twice = (second: string): XmlElement => element('x', {}, [element('EI', {}, [], '800'), element('ei', {}, [], second)]);
    expect(facts(read(twice('400')).note.statements)).toEqual({ ei: [800, 400] });
    expect(facts(read(twice('800')).note.statements)).toEqual({ ei: 800 });
  });
});

describe('a sidecar with a mapping', () => {
  const mapping: SidecarMapping = {
    name: 'invented', root: 'Shot',
    fields: [
      { field: 'focusDistance', path: 'Optics@focus', reading: 'unit-column', with: 'Optics@unit' },
      { field: 'shutter', path: 'Shutter', reading: 'minutes-of-arc' },
      { field: 'cameraHeight', path: 'Rig/Height', unit: 'cm' },
    ],
  };
  const root = element('Shot', {}, [
    element('Optics', { focus: '8', unit: 'feet' }), element('Shutter', {}, [], '10800'), element('Rig', {}, [element('Height', {}, [], '142')]), element('Tilt', {}, [], '-3'),
  ]);

  it('follows the mapping, and reads other fields by their names', () => {
    const { note, problems } = read(root, 'x.xml', [mapping]);
    expect(problems).toEqual([]);
    // 10800 minutes of arc are 180 degrees; 8 ft are 2.4384 m.
    expect(facts(note.statements)).toEqual({ focusDistance: 2.4384, shutter: { kind: 'angle', degrees: 180 }, cameraHeight: 1.42, tilt: -3 });
    expect(find(note.statements, 'focusDistance')).toMatchObject({ raw: '8, feet', source: { place: 'element Optics@focus' } });
  });

  it('applies only to its root element', () => {
    expect(facts(read(element('Other', {}, root.children), 'x.xml', [{ ...mapping, fields: mapping.fields.slice(0, 1) }]).note.statements)).not.toHaveProperty('focusDistance');
  });

  it('says which reading it does not know, and what a value should have been', () => {
    const wrong = { ...mapping, fields: [{ field: 'shutter', path: 'Shutter', reading: 'runes' } as const, { field: 'focusDistance', path: 'Optics@focus', reading: 'hex-float' } as const] };
    expect(read(root, 'x.xml', [wrong]).problems.map(({ place, expected }) => [place, expected])).toEqual([
      ['element Shutter', 'a reading that gemel knows, not "runes"'], ['element Optics@focus', expect.stringContaining('hex digits')],
    ]);
  });
});

describe('the professional disc sidecar', () => {
  // Structure of a real one (examples in SMPTE/ris-osvp-metadata-camdkit), values invented. Item codings: SMPTE RDD 18.
  const item = (name: string, value: string): XmlElement => element('Item', { name, value });
  const meta = (name: string, content: string): XmlElement => element('Meta', { name, content });
  const root = (over: { readonly changes?: readonly XmlElement[]; readonly rates?: Readonly<Record<string, string>>; readonly nd?: string } = {}): XmlElement =>
    element('NonRealTimeMeta', { lastUpdate: '2026-11-25T11:46:47-08:00' }, [
      element('Duration', { value: '588' }),
      element('LtcChangeTable', { tcFps: '24', halfStep: 'false' }, over.changes ?? [
        element('LtcChange', { frameCount: '0', value: '19044716', status: 'increment' }), element('LtcChange', { frameCount: '587', value: '06294716', status: 'end' }),
      ]),
      element('CreationDate', { value: '2026-11-25T11:46:22-08:00' }),
      element('VideoFormat', {}, [
        element('VideoFrame', { videoCodec: 'INVENTED_6K_16:9', captureFps: '24.00p', formatFps: '24p', ...over.rates }), element('VideoLayout', { pixel: '5674', numOfVerticalLine: '3192', pixelAspect: '1:1' }),
      ]),
      element('Device', { modelName: 'Recorder', serialNo: '1' }),
      element('Camera', { modelName: 'INV-3610', serialNo: '0010201' }),
      element('Lens', { manufacturer: '', modelName: 'S9i-32                       ' }),
      element('AcquisitionRecord', {}, [
        element('Group', { name: 'LensUnitMetadataSet' }, [item('AnamorphicLensSqueezeRatio', '200'), item('LensAttributes', '8123.0200')]),
        element('Group', { name: 'CameraUnitMetadataSet' }, [
          item('ExposureIndexOfPhotoMeter', '250'), item('NeutralDensityFilterWheelSetting', over.nd ?? '1'), item('ShutterSpeedAngle', '10380'), item('ISOSensitivity', '500'), item('WhiteBalance', '4300'),
        ]),
      ]),
      element('UserDescriptiveMetadata', {}, [meta('Circle', ''), meta('CameraIndex', 'D'), meta('Reel', '001'), meta('Scene', '27'), meta('Cut', 'B'), meta('Take', '3'), meta('Shot', '005')]),
    ]);

  it('reads right: reversed timecode, minutes of arc, squeeze in percent, serial under LensAttributes', () => {
    const { note, problems } = read(root(), 'day/D001C005_261125AGM01.xml');
    expect(problems).toEqual([]);
    expect(note.stem).toBe('D001C005_261125AG');
    expect(facts(note.statements)).toEqual({
      tcIn: '16:47:04:19', tcOut: '16:47:29:06', timecodeRate: { num: 24, den: 1 }, fps: { num: 24, den: 1 }, sensorFps: { num: 24, den: 1 }, frames: 588, shutter: { kind: 'angle', degrees: 173 },
      ei: 250, notes: expect.stringContaining('ISO sensitivity 500'), whiteBalance: 4300, filters: { text: 'clear', ndDensity: 0 }, squeeze: 2, lensSerial: '8123.0200', lens: 'S9i-32',
      raster: { width: 5674, height: 3192 }, codec: 'INVENTED_6K_16:9', cameraModel: 'INV-3610', cameraSerial: '0010201', camera: 'D', roll: '001', clip: '005', scene: '27', setup: 'B', take: '3',
      date: '2026-11-25T11:46:22-08:00',
    });
    expect(find(note.statements, 'tcIn')).toMatchObject({ raw: '19044716' });
  });

  it('counts timecode at the file’s own rate, and keeps a faster sensor apart', () => {
    expect(facts(read(root({ rates: { formatFps: '23.98p', captureFps: '47.95p' } })).note.statements)).toMatchObject({
      timecodeRate: { num: 24000, den: 1001 }, fps: { num: 24000, den: 1001 }, sensorFps: { num: 48000, den: 1001 },
    });
  });

  it('reads the drop-frame flag of the timecode bytes', () => {
    // ST 12-1: bit 6 of the frames byte, above the tens of frames.
    expect(facts(read(root({ changes: [element('LtcChange', { frameCount: '0', value: '42000010', status: 'increment' })] })).note.statements)).toMatchObject({ tcIn: '10:00:00;02' });
  });

  it('warns of a timecode that jumps within the clip', () => {
    const changes = ['0', '100', '587'].map((frameCount) => element('LtcChange', { frameCount, value: '19044716', status: 'increment' }));
    expect(read(root({ changes })).problems.map(({ code, found }) => [code, found])).toEqual([['frame-gap', '3 changes of timecode']]);
  });

  it('reads a neutral density wheel as light let through', () => {
    expect(facts(read(root({ nd: '0.25' })).note.statements)).toMatchObject({ filters: { text: 'ND 1/4', ndDensity: 0.602 } });
  });
});
