import { describe, expect, it } from 'vitest';
import { parseExiftoolTags } from '../../../src/formats/media/exiftool-tags.ts';

/** Field and value of everything found. */
function found(tags: unknown): readonly unknown[] {
  return parseExiftoolTags(tags).map(({ field, value }) => [field, value]);
}

describe("ExifTool's tags", () => {
  // Groups and tag names as ExifTool 13.59 writes them with -n -G1; values invented.
  it('give lens, exposure, camera and slate', () => {
    const tags = {
      'XMP-exif:FocalLength': 40, 'XMP-exif:FNumber': 2.8, 'XMP-exif:ISO': 800, 'XMP-exif:ExposureTime': 0.02, 'XMP-exif:SubjectDistance': 3.2, 'XMP-aux:Lens': 'Example Prime 40',
      'XMP-xmpDM:TapeName': 'A003', 'XMP-xmpDM:Scene': '27', 'XMP-xmpDM:ShotName': '27B', 'XMP-xmpDM:TakeNumber': 3, 'Keys:Model': 'ExampleCam X1', 'ExifIFD:DateTimeOriginal': '2026:11:25 18:15:00',
    };
    expect(found(tags)).toEqual([
      ['lens', 'Example Prime 40'], ['focalLength', 40], ['focusDistance', 3.2], ['stop', { kind: 'f', number: 2.8 }], ['shutter', { kind: 'time', seconds: 0.02 }], ['ei', 800],
      ['cameraModel', 'ExampleCam X1'], ['scene', '27'], ['take', '3'], ['slate', '27B'], ['reel', 'A003'], ['date', '2026-11-25'],
    ]);
    expect(parseExiftoolTags(tags)[0]?.place).toBe('ExifTool XMP-aux:Lens');
  });

  it('give no timecode of an MXF: ExifTool states seconds', () => {
    expect(found({ 'MXF:StartTimecode': 51_804.9198, 'MXF:EditRate': 23.976 })).toEqual([]);
  });

  it('give nothing for what cameras write when they do not know', () => {
    const unknown = { 'Red:FocusDistance': -0.001, 'IFD0:ISO': 65_535, 'Red:FocalLength': 0, 'ExifIFD:LensModel': '----', 'IFD0:Model': '   ', 'XMP-xmpDM:Scene': 'n.a.', 'ExifIFD:ColorTemperature': 0, 'ExifIFD:FNumber': 'inf' };
    expect(found(unknown)).toEqual([]);
  });

  it('give no take for REDCODE, which repeats the clip number there', () => {
    expect(found({ 'Red:Take': '066' })).toEqual([]);
  });

  it('of a preview or of ExifTool itself are left alone', () => {
    expect(found({ 'IFD1:Model': 'Preview', 'Composite:FocalLength': 35, 'System:FileSize': 5, SourceFile: 'x', 'ExifTool:Warning': 'Truncated' })).toEqual([]);
  });

  it('that differ between groups are all given, equal ones once, and a better tag stands for the lesser', () => {
    expect(found({ 'Keys:Model': 'X1', 'IFD0:Model': 'X2', 'XMP-tiff:Model': 'X1' })).toEqual([['cameraModel', 'X1'], ['cameraModel', 'X2']]);
    expect(found({ 'XMP-aux:Lens': '40 mm', 'ExifIFD:LensModel': 'Example Prime 40' })).toEqual([['lens', 'Example Prime 40']]);
  });

  it('of any shape throw nothing', () => {
    for (const tags of [undefined, null, 7, [], { 'IFD0:Model': { deep: true }, 'IFD0:ISO': [800] }]) expect(found(tags)).toEqual([]);
  });
});
