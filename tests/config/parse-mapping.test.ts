import { describe, expect, it } from 'vitest';
import { parseMapping } from '../../src/config/parse-mapping.ts';
import { UsageError } from '../../src/core/material/errors.ts';

describe('a mapping file', () => {
  it('says which element, attribute or column is which field', () => {
    const mapping = parseMapping(
      [
        'name: example camera, sidecar',
        'form: xml',
        'root: ClipSidecar',
        'fields:',
        '  - { field: sensor_fps, path: VideoFrame@captureFps }',
        '  - { field: focus_distance, path: Focus@value, unit: ft, reading: plain, with: Focus@unit }',
      ].join('\n'),
      'example.yaml',
    );
    expect(mapping).toStrictEqual({
      name: 'example camera, sidecar',
      form: 'xml',
      root: 'ClipSidecar',
      fields: [
        { field: 'sensorFps', path: 'VideoFrame@captureFps' },
        { field: 'focusDistance', path: 'Focus@value', unit: 'ft', reading: 'plain', with: 'Focus@unit' },
      ],
    });
  });

  it('is refused with every problem and its place', () => {
    expect(() => parseMapping('name: x\nroots: y\nfields:\n  - { field: shoe_size, path: A }\n  - { field: lens }\n', 'bad.yaml')).toThrow(UsageError);
    try {
      parseMapping('name: x\nroots: y\nfields:\n  - { field: shoe_size, path: A }\n  - { field: lens }\n', 'bad.yaml');
    } catch (error) {
      expect(error instanceof UsageError && error.problems.map((problem) => problem.replace(/, expected.*/, ''))).toEqual([
        'bad.yaml:2:1: roots: found an unknown key',
        'bad.yaml:4:14: fields.1.field: found "shoe_size"',
        'bad.yaml:5:5: fields.2.path: found nothing',
      ]);
    }
  });
});
