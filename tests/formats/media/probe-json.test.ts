import { describe, expect, it } from 'vitest';
import * as fc from 'fast-check';
import { parseProbe } from '../../../src/formats/media/probe-json.ts';

// Keys and spellings as FFmpeg 5.1 writes them; values invented.
const VIDEO = {
  codec_type: 'video', codec_name: 'prores', codec_long_name: 'Apple ProRes (iCodec Pro)', profile: 'HQ', width: 1920, height: 1080,
  r_frame_rate: '24000/1001', avg_frame_rate: '24000/1001', time_base: '1/24000', duration_ts: 48_048, nb_frames: '48', tags: { timecode: '14:22:33:04' },
};
const FORMAT = { format_name: 'mov,mp4,m4a,3gp,3g2,mj2', tags: { major_brand: 'qt  ' } };

describe("ffprobe's answer", () => {
  it('gives rate, length, raster, coding and timecode', () => {
    const facts = parseProbe({ streams: [VIDEO], format: FORMAT });
    expect(facts).toMatchObject({ container: 'mov', rate: { num: 24_000, den: 1001 }, frames: 48, raster: { width: 1920, height: 1080 }, codec: 'ProRes 422 HQ', timecode: { frame: 1_242_076, format: { base: 24, drop: false } } });
    expect(facts.completeness).toMatchObject({ condition: 'unverified', complete: null });
  });

  it('has its timecode with the picture, with another stream, or with the file', () => {
    const { tags: _, ...bare } = VIDEO;
    const data = { codec_type: 'data', tags: { timecode: '01:00:00:00', reel_name: 'A003R' } };
    expect(parseProbe({ streams: [bare, data], format: FORMAT })).toMatchObject({ timecode: { frame: 86_400 }, reel: 'A003R' });
    expect(parseProbe({ streams: [bare], format: { format_name: 'mxf', tags: { timecode: '00:00:10:00' } } })).toMatchObject({ container: 'mxf', timecode: { frame: 240 } });
  });

  it('gives the length of an MXF, which it does not count, from its duration', () => {
    const { nb_frames: _, ...uncounted } = VIDEO;
    const facts = parseProbe({ streams: [{ ...uncounted, time_base: '1001/24000', duration_ts: 48 }], format: { format_name: 'mxf' } });
    expect(facts.frames).toBe(48);
    expect(facts.values.find(({ field }) => field === 'frames')?.place).toBe('ffprobe, video stream, duration');
  });

  it('is not believed in the rate of single pictures', () => {
    // FFmpeg 5.1 says 25/1 of every DPX and EXR file.
    for (const format_name of ['dpx_pipe', 'exr_pipe', 'image2', 'png_pipe']) {
      const facts = parseProbe({ streams: [{ ...VIDEO, r_frame_rate: '25/1', avg_frame_rate: '25/1' }], format: { format_name } });
      expect([facts.rate, facts.frames]).toEqual([undefined, undefined]);
    }
  });

  it('gives no rate where finest and average differ', () => {
    const facts = parseProbe({ streams: [{ ...VIDEO, avg_frame_rate: '2997/125' }], format: FORMAT });
    expect(facts.rate).toBeUndefined();
    expect(facts.problems).toHaveLength(1);
  });

  it('turns its counter-clockwise rotation round', () => {
    expect(parseProbe({ streams: [{ ...VIDEO, side_data_list: [{ rotation: -90 }] }], format: FORMAT }).rotationDeg).toBe(90);
  });

  it('with a label that does not exist keeps the rest', () => {
    const facts = parseProbe({ streams: [{ ...VIDEO, tags: { timecode: '14:22:33:24' } }], format: FORMAT });
    expect(facts.timecode).toBeUndefined();
    expect(facts.frames).toBe(48);
    expect(facts.problems.map(({ found }) => found)).toEqual(['timecode 14:22:33:24']);
  });

  it('without a picture is unreadable, whatever it is', () => {
    for (const json of [undefined, null, 'text', [], {}, { streams: 'none' }, { streams: [{ codec_type: 'audio' }] }]) expect(parseProbe(json).completeness.condition).toBe('unreadable');
  });

  it('of any shape throws nothing', () => {
    const anything = fc.oneof(fc.string(), fc.double(), fc.constant(null), fc.constantFrom('0/0', '24/0', '1e3/1', '-24/1', '99:99:99:99', '24'), fc.object());
    const stream = fc.record(Object.fromEntries(Object.keys(VIDEO).map((key) => [key, key === 'codec_type' ? fc.constant('video') : anything])), { requiredKeys: ['codec_type'] });
    fc.assert(fc.property(fc.array(stream), anything, (streams, format) => void parseProbe({ streams, format })));
  });
});
