import { describe, expect, it } from 'vitest';
import { sourceOf } from '../../../src/formats/media/byte-source.ts';
import { readPng } from '../../../src/formats/media/png.ts';
import { bytes, zeros } from './build.ts';
import { png } from './build-picture.ts';

describe('a PNG picture', () => {
  it('gives its size, depth and texts', async () => {
    const facts = await readPng(sourceOf(png([['tEXt', bytes('Comment', 0, 'clean plate')], ['iTXt', bytes('Title', 0, 0, 0, 'de', 0, 'Titel', 0, 'L\xc3\xa4nge')]])));
    expect(facts).toMatchObject({ container: 'png', raster: { width: 16, height: 8 }, codec: 'PNG 8 bit', completeness: { condition: 'whole', complete: true }, moreMetadata: false });
    expect(facts.texts).toEqual([{ name: 'Comment', text: 'clean plate', place: 'PNG tEXt Comment' }, { name: 'Title', text: 'Länge', place: 'PNG iTXt Title' }]);
  });

  it('names texts it leaves alone: packed ones, XMP and Exif', async () => {
    const facts = await readPng(sourceOf(png([['zTXt', bytes('a', 0, 0, 0)], ['iTXt', bytes('XML:com.adobe.xmp', 0, 0, 0, 0, 0, '<x/>')], ['eXIf', zeros(8)]])));
    expect(facts.notUnderstood).toEqual(['eXIf', 'iTXt', 'zTXt']);
  });

  it('is known to be cut off at every length', async () => {
    const whole = png([['tEXt', bytes('Comment', 0, 'clean plate')]]);
    for (let length = 1; length < whole.length; length++) expect([length, (await readPng(sourceOf(whole.subarray(0, length)))).completeness.complete]).toEqual([length, false]);
  });

  it('is whole when something follows its end', async () => {
    expect((await readPng(sourceOf(bytes(png(), zeros(100))))).completeness.condition).toBe('whole');
  });

  it('is not what other files are', async () => {
    expect((await readPng(sourceOf(bytes('renamed text')))).completeness.condition).toBe('unreadable');
    expect((await readPng(sourceOf(zeros(0)))).completeness.condition).toBe('empty');
  });
});
