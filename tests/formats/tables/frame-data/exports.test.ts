import { describe, expect, it } from 'vitest';
import { joinExportParts } from '../../../../src/formats/tables/frame-data/join-parts.ts';
import { facts, read, remarks, said, warnings } from '../read.ts';

/** Rows as lines: a heading row and one line a row, cells in the order of the headings. */
function table(rows: readonly Readonly<Record<string, string>>[], delimiter: string, quote = ''): string {
  const headings = Object.keys(rows[0] ?? {});
  const line = (cells: readonly string[]): string => cells.map((cell) => `${quote}${cell}${quote}`).join(delimiter);
  return [line(headings), ...rows.map((row) => line(headings.map((heading) => row[heading] ?? '')))].join('\n');
}

// The layouts are those of real exports of five makers (examples in SMPTE/ris-osvp-metadata-camdkit); the values are invented.

describe('the tab-separated export with one row a frame', () => {
  const row = (frame: number, over: Readonly<Record<string, string>> = {}): Readonly<Record<string, string>> => ({
    Index: String(frame).padStart(8), 'Master TC': `10:20:30:${String(frame + 5).padStart(2, '0')}`, Reel: 'A004R7QK', Scene: 'no scene name', Take: 'n.a.', 'Circle Take': '--',
    'Camera Clip Name': 'A004C007_261125_R7QK', 'Camera Serial Number': '4711', 'Camera Index': 'A', 'Camera Model': 'Twin 35', 'Camera SubProduct': ' Plus', 'System Image Creation Date': '2026/11/25',
    'Exposure Time': '20.833 ms', 'Shutter Angle': '180.000', 'Sensor FPS': '24.000', 'Project FPS': '24.000', 'Master TC Drop Frame': 'no', 'Master TC Time Base': '24.000',
    'Image Width': '4448', 'Image Height': '1856', 'White Balance': '5600', 'White Balance CC': '  0', 'Exposure Index ASA': '800', 'Lens Squeeze': '2.000',
    'Lens Model': 'Invented 50 T2.1', 'Lens Serial Number': '17', 'Lens Distance Unit': 'Meter', 'Lens Focus Distance': (4 - frame / 10).toFixed(3), 'Lens Focal Length': '50.000',
    'Lens Iris': '2.8 + 5/10', 'Lens Linear Iris': '4500', 'ND Filter Density': '0.6', 'Camera Tilt': '409.500', 'Camera Roll': '-0.200', 'Recording Codec': 'Raw', ...over,
  });
  /** The second "Master TC" stands further right in the same row. */
  const twice = (text: string): string => text.split('\n').map((line) => `${line}\t${line.split('\t')[1] ?? ''}`).join('\n');
  const frames = [0, 1, 2, 3, 4, 5];

  it('reads constants as statements, and focus as a track', () => {
    const { kind, notes, problems } = read(twice(table(frames.map((frame) => row(frame)), '\t')), 'day/A004C007_261125_R7QK.mov.csv');
    expect({ kind, problems }).toEqual({ kind: 'frame-data', problems: [] });
    const [note] = notes;
    expect(note).toMatchObject({ kind: 'report', folder: 'day', stem: 'A004C007_261125_R7QK', place: '' });
    expect(facts(note?.statements ?? [])).toEqual({
      file: 'A004C007_261125_R7QK', camera: 'A', reel: 'A004R7QK', cameraModel: 'Twin 35', cameraSerial: '4711', tcIn: '10:20:30:05', tcOut: '10:20:30:10', frames: 6,
      dropFrame: false, timecodeRate: { num: 24, den: 1 }, fps: { num: 24, den: 1 }, sensorFps: { num: 24, den: 1 }, shutter: [{ kind: 'angle', degrees: 180 }, { kind: 'time', seconds: 0.020833 }],
      ei: 800, whiteBalance: 5600, tint: 0, focalLength: 50, stop: { kind: 'T', number: expect.closeTo(2 ** 1.75, 9) }, lens: 'Invented 50 T2.1', lensSerial: '17', squeeze: 2,
      filters: { text: '0.6', ndDensity: 0.6 }, rollAngle: -0.2, raster: { width: 4448, height: 1856 }, codec: 'Raw', date: '2026/11/25',
    });
    expect(note?.tracks).toEqual([{
      source: { kind: 'report', file: 'day/A004C007_261125_R7QK.mov.csv', place: 'lines 2 to 7' }, frames: 6, stopKind: 'T',
      values: { focalLength: Array(6).fill(50), focusDistance: [4, 3.9, 3.8, 3.7, 3.6, 3.5], stop: Array(6).fill(expect.closeTo(3.3636, 3)), rollAngle: Array(6).fill(-0.2) },
    }]);
  });

  it('falls back to tenths of a stop when the linear code is not there', () => {
    const { notes } = read(table(frames.map((frame) => row(frame, { 'Lens Linear Iris': '--' })), '\t'));
    expect(said(notes[0]?.statements ?? [], 'stop')).toEqual([{ kind: 'unknown', number: expect.closeTo(2.8284 * 2 ** 0.25, 3) }]);
  });

  it('reads feet by the unit column, and refuses a unit it does not know', () => {
    const inFeet = read(table(frames.map((frame) => row(frame, { 'Lens Distance Unit': 'Feet' })), '\t'));
    expect(inFeet.notes[0]?.tracks[0]?.values.focusDistance?.[0]).toBeCloseTo(1.2192, 9);
    const inCubits = read(table(frames.map((frame) => row(frame, { 'Lens Distance Unit': 'Cubit' })), '\t'));
    expect(warnings(inCubits)).toEqual(['line 2, column "Lens Focus Distance": "4.000" and 5 more rows']);
    expect(inCubits.notes[0]?.tracks[0]?.values.focusDistance).toBeUndefined();
  });

  it('marks frames without a value in a track with NaN', () => {
    const { notes, problems } = read(table(frames.map((frame) => row(frame, frame === 2 ? { 'Lens Focus Distance': '--' } : {})), '\t'));
    expect(problems).toEqual([]);
    expect(notes[0]?.tracks[0]?.values.focusDistance).toEqual([4, 3.9, Number.NaN, 3.7, 3.6, 3.5]);
  });

  it('counts timecode of 23.976 at 23.976, though the export rounds its base', () => {
    const { notes } = read(table(frames.map((frame) => row(frame, { 'Project FPS': '23.976' })), '\t'));
    expect(facts(notes[0]?.statements ?? [])).toMatchObject({ fps: { num: 24000, den: 1001 }, timecodeRate: { num: 24000, den: 1001 } });
  });

  it('warns when the timecode does not run on, or a camera setting changes within the clip', () => {
    const jump = frames.map((frame) => row(frame, frame > 2 ? { 'Master TC': `10:20:31:${String(frame).padStart(2, '0')}`, 'White Balance': '3200' } : {}));
    expect(read(table(jump, '\t')).problems.map(({ code, place, found }) => [code, place, found])).toEqual([
      ['sources-disagree', 'line 5, column "White Balance"', '"3200" after "5600" in line 2'],
      ['frame-gap', 'line 5, column "Master TC"', '10:20:31:03 after 10:20:30:07'],
    ]);
  });
});

describe('the pair of a clip file and a frames file with lens bytes', () => {
  const clip = {
    'Clip Name': 'B002_C014_1125QK', Camera: 'B', 'Camera Model': 'Twin 8K', 'Camera PIN': '111-22A-3B4', AltReelID: 'B002_C014_1125QK', CamReelID: 'B002', ReelID: '002', Clip: '014', Scene: '', Shot: '', Take: '014',
    'Abs TC': '23:17:21:08', 'End Abs TC': '23:17:21:10', 'Edge TC': '01:20:52:10', 'End Edge TC': '01:20:52:12', 'Total Frames': '3', FPS: '24', 'Record FPS': '48', 'Shutter (deg)': '180', 'Shutter (ms)': '21', 'Shutter (1/sec)': '48',
    ISO: '800', Kelvin: '5600', Tint: '0', 'Focal Length': '40mm', 'Focus Distance': '410mm', Aperture: 'F5.6', 'Lens Brand': 'INVENTED       ', 'Lens Name': '40mm T1.5 | 018', 'Lens Serial Number': 'X53599',
    'Pixel Aspect Ratio': '1', Date: '20261125', 'File Path': '/Users/somebody/B002.R3D',
  };
  const frame = (at: number): Readonly<Record<string, string>> => ({
    Timecode: `23:17:21:${String(at + 8).padStart(2, '0')}`, Aperture: '5.600000', 'Focal Length': '40', 'Lens Focus Distance': String(410 + 10 * at), 'Cooke Metadata': '64/40/40/46/68/48/70/40/40',
  });
  /** The second set of headings holds the crew's entries: "Aperture" again, empty here. */
  const clipText = table([clip], ',').replace(/^(.*)\n(.*)$/, '$1,Aperture,Focal Length,Lens\n$2,,,');

  it('reads the clip: time of day, rates, and no take where the camera only repeats the clip number', () => {
    const { kind, notes, problems } = read(clipText, 'day/B002_C014_1125QK_001.static.csv');
    expect({ kind, problems }).toEqual({ kind: 'frame-data', problems: [] });
    expect(notes[0]).toMatchObject({ stem: 'B002_C014_1125QK_001', tracks: [] });
    expect(facts(notes[0]?.statements ?? [])).toEqual({
      file: 'B002_C014_1125QK', camera: 'B', roll: 'B002', reel: 'B002_C014_1125QK', clip: '014', cameraModel: 'Twin 8K', cameraSerial: '111-22A-3B4', tcIn: '23:17:21:08', tcOut: '23:17:21:10', frames: 3,
      fps: { num: 24, den: 1 }, sensorFps: { num: 48, den: 1 }, shutter: { kind: 'angle', degrees: 180 }, ei: 800, whiteBalance: 5600, tint: 0, focalLength: 40, focusDistance: 0.41,
      stop: { kind: 'unknown', number: 5.6 }, lens: '40mm T1.5 | 018', lensSerial: 'X53599', squeeze: 1, date: '20261125',
    });
    expect(JSON.stringify(notes)).not.toContain('/Users/');
    expect(said(read(table([{ ...clip, Take: '3' }], ',')).notes[0]?.statements ?? [], 'take')).toEqual(['3']);
  });

  it('reads the frames: bare millimetres, and the T-stop of the lens’s own data', () => {
    const { notes, problems } = read(table([0, 1, 2].map(frame), ','), 'day/B002_C014_1125QK_001.frames.csv');
    expect(problems).toEqual([]);
    expect(facts(notes[0]?.statements ?? [])).toEqual({ tcIn: '23:17:21:08', tcOut: '23:17:21:10', frames: 3, focalLength: 40, stop: { kind: 'T', number: 5.6 } });
    expect(notes[0]?.tracks[0]).toMatchObject({ stopKind: 'T', values: { focusDistance: [0.41, 0.42, 0.43], focalLength: [40, 40, 40], stop: [5.6, 5.6, 5.6] } });
  });

  it('joins the parts, and says when one is cut short', () => {
    const whole = read(clipText, 'day/B002_C014_1125QK_001.static.csv').notes;
    const parts = (frames: readonly number[]): ReturnType<typeof joinExportParts> => joinExportParts([...whole, ...read(table(frames.map(frame), ','), 'day/B002_C014_1125QK_001.frames.csv').notes]);
    expect(parts([0, 1, 2]).notes).toHaveLength(1);
    expect(parts([0, 1, 2]).problems).toEqual([]);
    expect(facts(parts([0, 1, 2]).notes[0]?.statements ?? [])).toMatchObject({ file: 'B002_C014_1125QK', stop: [{ kind: 'unknown', number: 5.6 }, { kind: 'T', number: 5.6 }] });
    expect(parts([0, 1]).problems).toEqual([expect.objectContaining({ code: 'length-disagrees', file: 'day/B002_C014_1125QK_001.frames.csv', found: '2 frames' })]);
  });

  it('joins nothing else: no rows of a report, no rows of a table of several clips', () => {
    const report = read('Slate,Take\n27B,1\n27B,2\n', 'day/log_metadata.csv').notes;
    const several = read(table([clip, { ...clip, 'Clip Name': 'B002_C015_1125QK' }], ','), 'day/all_static.csv').notes;
    expect(several.map(({ place, stem }) => ({ place, stem }))).toEqual([{ place: 'line 2', stem: undefined }, { place: 'line 3', stem: undefined }]);
    expect(joinExportParts([...report, ...several])).toEqual({ notes: [...report, ...several], problems: [] });
  });
});

describe('the pair of files with codes and fractions', () => {
  const frame = (over: Readonly<Record<string, string>> = {}): Readonly<Record<string, string>> => ({
    Timecode: '1:02:03:04', FocusPosition: '40200000', FocalLength: '350/10', FocalLength35mm: '65535/65535', ApertureNumber: '28/10', ApertureMode: '2', ExposureTime: '17280/100', ExposureTimeMode: '2',
    PhotographicSensitivity: '2147484448/1', PhotographicSensitivityMode: '1', ColorTemperature: '4300', ColorCompensation: '130', NDFilter: '65535/65535', BaseISO: '800', ...over,
  });
  const factsOf = (over: Readonly<Record<string, string>>): Readonly<Record<string, unknown>> => facts(read(table([frame(over)], ',')).notes[0]?.statements ?? []);

  it('reads the frame: hex floats, fractions by mode, the offset of the sensitivity', () => {
    // 0x40200000 is 2.5 in IEEE 754 single precision; 2147484448 less 2^31 is 800.
    expect(factsOf({})).toEqual({
      tcIn: '1:02:03:04', focusDistance: 2.5, focalLength: 35, stop: { kind: 'T', number: 2.8 }, shutter: { kind: 'angle', degrees: 172.8 }, ei: 800, whiteBalance: 4300, tint: 2,
    });
    expect(factsOf({ ApertureMode: '1' })).toMatchObject({ stop: { kind: 'f', number: 2.8 } });
    expect(factsOf({ PhotographicSensitivity: '800/1' })).toMatchObject({ ei: 800 });
    expect(factsOf({ FocusPosition: '7F800000' })).toMatchObject({ focusDistance: Infinity });
  });

  it('takes the codes of "not available" for nothing: 65535/65535 is no 1, 255 no tint, an unset float no distance', () => {
    const nothing = { FocusPosition: 'FFFFFFFF', FocalLength: '65535/65535', ApertureNumber: '65535/65535', ExposureTime: '65535/65535', PhotographicSensitivity: '65535/65535', ColorTemperature: '65535', ColorCompensation: '255' };
    const reading = read(table([frame(nothing)], ','));
    expect(reading.problems).toEqual([]);
    expect(facts(reading.notes[0]?.statements ?? [])).toEqual({ tcIn: '1:02:03:04' });
  });

  it('refuses modes it does not know', () => {
    expect(warnings(read(table([frame({ ApertureMode: '7', ExposureTimeMode: '1' })], ',')))).toEqual(['line 2, column "ApertureNumber": "28/10"', 'line 2, column "ExposureTime": "17280/100"']);
  });

  it('reads the clip: squeeze by code, and joins it to its frames', () => {
    const clip = (squeeze: string): string => table([{ SceneNumber: '', TakeNumber: '', ShotNumber: 'A001C004', ReelNumber: '1', LensSqueezeFactor: squeeze, UMID: '060A', CreationTime: '2026/11/25 23:01', Timescale: '30000', Duration: '135135', Width: '5952', Height: '3140' }], ',');
    expect(['0', '1', '2', '3', '255'].map((code) => said(read(clip(code)).notes[0]?.statements ?? [], 'squeeze'))).toEqual([[1], [1.33], [2], [1.8], []]);
    expect(warnings(read(clip('9')))).toEqual(['line 2, column "LensSqueezeFactor": "9"']);
    const parts = [...read(table([frame()], ','), 'x/20261125_Lens_Frames.csv').notes, ...read(clip('2'), 'x/20261125_Lens_Static.csv').notes];
    // The clip is named within, the export is not named for it.
    expect(joinExportParts(parts).notes.map(({ stem, folder }) => ({ stem, folder }))).toEqual([{ stem: undefined, folder: 'x' }]);
    expect(facts(joinExportParts(parts).notes[0]?.statements ?? [])).toMatchObject({ clip: 'A001C004', raster: { width: 5952, height: 3140 }, squeeze: 2, focalLength: 35, tcIn: '1:02:03:04' });
  });
});

describe('the text in clip and frame blocks', () => {
  const text = (over = ''): string => `Clip Metadata
clip_number: A002_11250812_C003
reel_name: 2
scene: 27
take: 4
good_take: false
manufacturer: Invented
camera_type: Twin Cine
camera_id: 0b6f2c1e-0000-4000-8000-123456789abc
camera_number: A
format_frame_rate: 1572864
anamorphic: 2x
anamorphic_enable: 1
date_recorded: 2026:11:25
as_shot_kelvin: 0
iso: 400
post_3dlut_embedded_data: ${'0.1,'.repeat(800)}
Frame 0 Metadata
sensor_rate: 48,1,
iso: 800
shutter_value: 180°
shutter_type: Angle
white_balance_kelvin: 5600
white_balance_tint: 10
focal_length: 50mm
distance: 991mm
aperture: T2.3
lens_type: Invented Anamorphic 50mm: second series
${over}`;

  it('reads both blocks; the frame’s value beats the clip’s, 48 frames a second beside a file at 24', () => {
    const { kind, notes, problems } = read(text(), 'day/metadata.txt');
    expect({ kind, problems }).toEqual({ kind: 'frame-data', problems: [] });
    expect(facts(notes[0]?.statements ?? [])).toEqual({
      file: 'A002_11250812_C003', camera: 'A', reel: '2', scene: '27', take: '4', circled: false, cameraModel: 'Twin Cine', cameraSerial: '0b6f2c1e-0000-4000-8000-123456789abc',
      fps: { num: 24, den: 1 }, sensorFps: { num: 48, den: 1 }, shutter: { kind: 'angle', degrees: 180 }, ei: 800, whiteBalance: 5600, tint: 10, focalLength: 50, focusDistance: 0.991,
      stop: { kind: 'T', number: 2.3 }, lens: 'Invented Anamorphic 50mm: second series', squeeze: 2, date: '2026:11:25',
    });
    expect(notes[0]).not.toHaveProperty('stem');
    expect(notes[0]?.statements.find(({ field }) => field === 'stop')?.source.place).toBe('block at line 18, key "aperture"');
  });

  it('takes a squeeze that is switched off for none, and a shutter speed for a time', () => {
    const off = read(text().replace('anamorphic_enable: 1', 'anamorphic_enable: 0').replace('shutter_value: 180°', 'shutter_value: 50').replace('Angle', 'Speed'));
    expect(facts(off.notes[0]?.statements ?? [])).toMatchObject({ squeeze: 1, shutter: { kind: 'time', seconds: 0.02 } });
  });

  it('reads several frames as a track', () => {
    const { notes } = read(text('Frame 1 Metadata\nsensor_rate: 48,1,\ndistance: 1.2m\n'));
    expect(notes[0]?.tracks[0]).toMatchObject({ frames: 2, values: { focusDistance: [0.991, 1.2], focalLength: [50, Number.NaN] } });
  });
});

describe('the export with everything in quotes and focus in feet', () => {
  const row = (frame: number, over: Readonly<Record<string, string>> = {}): Readonly<Record<string, string>> => ({
    Timecode: `16:47:04:${String(19 + frame).padStart(2, '0')}`, 'Clip Name': 'D002C009_261125AG', 'Lens Model': '8123.0200', 'Lens Serial': '', 'Focal Length (mm)': '32', Aperture: 'T 2 3/10',
    'Focus Distance (ft)': ['5.83', '5.823', '5.5', '5.25'][frame] ?? '5', 'Camera Tilt': '', 'Camera Roll': '', 'Camera Model': 'INV-3610', ...over,
  });
  const frames = [0, 1, 2, 3];

  it('reads feet, tenths of a stop, and the serial number under "Lens Model"', () => {
    const { notes, problems } = read(table(frames.map((frame) => row(frame)), ',', '"'), 'day/D002C009_261125AG.csv');
    expect(problems).toEqual([]);
    expect(facts(notes[0]?.statements ?? [])).toEqual({
      file: 'D002C009_261125AG', tcIn: '16:47:04:19', tcOut: '16:47:04:22', frames: 4, lensSerial: '8123.0200', focalLength: 32, stop: { kind: 'T', number: expect.closeTo(2.219, 3) }, cameraModel: 'INV-3610',
    });
    expect(notes[0]?.tracks[0]?.values.focusDistance).toEqual([1.776984, 1.7748504, 1.6764, 1.6002]);
  });

  it('reads a lens model that is one, with the serial in its own column', () => {
    const named = frames.map((frame) => row(frame, { 'Lens Model': 'S9i-32', 'Lens Serial': '8123' }));
    expect(facts(read(table(named, ',', '"')).notes[0]?.statements ?? [])).toMatchObject({ lens: 'S9i-32', lensSerial: '8123' });
  });

  it('refuses a base that is no full stop: T 6 may be APEX 6, which is T 8', () => {
    const reading = read(table(frames.map((frame) => row(frame, { Aperture: 'T 6 0/10' })), ',', '"'));
    expect(warnings(reading)).toEqual(['line 2, column "Aperture": "T 6 0/10" and 3 more rows']);
    expect(said(reading.notes[0]?.statements ?? [], 'stop')).toEqual([]);
  });
});

describe('lens data of no known maker', () => {
  it('is told by timecodes that run on from row to row', () => {
    const { kind, notes, problems } = read('Timecode,Focal Length,Focus (m),T-Stop\n01:00:00:23,35,2,2.8\n01:00:01:00,35,1.9,2.8\n01:00:01:01,35,1.8,2.8\n', 'day/A001C002_261125_R7QK.csv');
    expect({ kind, problems }).toEqual({ kind: 'frame-data', problems: [] });
    expect(facts(notes[0]?.statements ?? [])).toEqual({ tcIn: '01:00:00:23', tcOut: '01:00:01:01', frames: 3, focalLength: 35, stop: { kind: 'T', number: 2.8 } });
    expect(notes[0]).toMatchObject({ stem: 'A001C002_261125_R7QK', tracks: [{ frames: 3, stopKind: 'T', values: { focusDistance: [2, 1.9, 1.8] } }] });
  });

  it('is read with its assumptions told, and without taking a counter for the length', () => {
    const reading = read('Timecode,Frame Count,Focus\n01:00:00:00,1,2\n01:00:00:01,2,1.9\n01:00:00:02,3,close\n');
    expect(facts(reading.notes[0]?.statements ?? [])).toEqual({ tcIn: '01:00:00:00', tcOut: '01:00:00:02', frames: 3 });
    expect(remarks(reading)).toEqual(['line 2, column "Focus": "2" and 1 more row: no unit is written: taken as metres']);
    expect(warnings(reading)).toEqual(['line 4, column "Focus": "close"']);
  });

  it('or by frame numbers', () => {
    expect(read('Frame,Focal Length,Focus (m)\n1001,35,2\n1002,35,1.9\n').kind).toBe('frame-data');
  });

  it('is no report whose rows are clips', () => {
    expect(read('Timecode,Slate,Focal Length\n01:00:00:00,27B,35\n01:07:00:00,27B,35\n').kind).toBe('report');
    expect(read('Index,Clip Name,Focal Length\n1,A001C001,35\n2,A001C002,35\n').kind).toBe('report');
  });
});
