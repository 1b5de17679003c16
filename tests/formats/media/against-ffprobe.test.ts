import { execFileSync } from 'node:child_process';
import { openSync, closeSync, fstatSync, readSync, truncateSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { formatTimecode } from '../../../src/core/timecode/timecode.ts';
import type { ByteSource } from '../../../src/formats/media/byte-source.ts';
import type { MediaFacts } from '../../../src/formats/media/media-facts.ts';
import { readMov } from '../../../src/formats/media/mov.ts';
import { readMxf } from '../../../src/formats/media/mxf.ts';
import { parseProbe } from '../../../src/formats/media/probe-json.ts';
import { makeMovie, programPath, temporaryFolder } from '../../support/make-media.ts';

const H264 = ['-c:v', 'libx264', '-pix_fmt', 'yuv420p', '-preset', 'ultrafast'];
const B_FRAMES = ['-c:v', 'libx264', '-pix_fmt', 'yuv420p', '-bf', '2'];
const PRORES = ['-c:v', 'prores_ks', '-profile:v', 'hq', '-pix_fmt', 'yuv422p10le'];
const MPEG2 = ['-c:v', 'mpeg2video', '-pix_fmt', 'yuv420p', '-b:v', '2M'];
const DNXHD = ['-c:v', 'dnxhd', '-b:v', '36M', '-pix_fmt', 'yuv422p', '-f', 'mxf_opatom'];
const FAST = ['-movflags', '+faststart'];
const FRAGMENTED = ['-movflags', 'frag_keyframe+empty_moov', '-g', '5'];
const REEL = ['-metadata:s:v', 'reel_name=A003R'];

interface Row {
  readonly name: string;
  readonly rate: string;
  readonly label: string;
  readonly codec: readonly string[];
  readonly more?: readonly string[];
  readonly size?: string;
}

const ROWS: readonly Row[] = [
  { name: 'prores.mov', rate: '24000/1001', label: '14:22:33:04', codec: PRORES, more: REEL },
  { name: 'fast.mov', rate: '24', label: '01:00:00:00', codec: ['-c:v', 'mjpeg'], more: FAST },
  { name: 'plain.mov', rate: '25', label: '23:59:59:24', codec: ['-c:v', 'mjpeg'] },
  { name: 'drop.mov', rate: '30000/1001', label: '00:01:00;02', codec: B_FRAMES },
  { name: 'non-drop.mov', rate: '30000/1001', label: '01:02:03:04', codec: H264, more: FAST },
  { name: 'fifty.mov', rate: '50', label: '10:11:12:49', codec: PRORES },
  { name: 'fast-drop.mov', rate: '60000/1001', label: '01:01:00;04', codec: H264 },
  { name: 'film.mp4', rate: '24000/1001', label: '14:22:33:04', codec: B_FRAMES },
  { name: 'drop.mp4', rate: '30000/1001', label: '10:00:00;00', codec: H264, more: FAST },
  { name: 'fifty.mp4', rate: '50', label: '00:00:00:01', codec: B_FRAMES, more: FAST },
  { name: 'pieces.mp4', rate: '25', label: '01:00:00:00', codec: H264, more: FRAGMENTED },
  { name: 'one-a.mxf', rate: '25', label: '10:00:00:00', codec: MPEG2 },
  { name: 'film.mxf', rate: '24000/1001', label: '23:59:59:23', codec: MPEG2, more: ['-metadata', 'reel_name=A003R'] },
  { name: 'drop.mxf', rate: '30000/1001', label: '10:00:00;00', codec: MPEG2 },
  { name: 'fast-drop.mxf', rate: '60000/1001', label: '01:01:00;04', codec: MPEG2 },
  { name: 'atom.mxf', rate: '24000/1001', label: '14:22:33:04', codec: DNXHD, size: '1920x1080' },
];

/** A file as a source, read as an adapter would. */
function onFile<T>(path: string, use: (source: ByteSource) => Promise<T>): Promise<T> {
  const file = openSync(path, 'r');
  const source: ByteSource = {
    size: fstatSync(file).size,
    read(offset, length) {
      const bytes = new Uint8Array(length);
      return Promise.resolve(bytes.subarray(0, readSync(file, bytes, 0, length, offset)));
    },
  };
  return use(source).finally(() => closeSync(file));
}

function readHeader(path: string): Promise<MediaFacts> {
  return onFile(path, path.endsWith('.mxf') ? readMxf : readMov);
}

async function ffprobe(path: string): Promise<MediaFacts> {
  const json: unknown = JSON.parse(execFileSync(await programPath('ffprobe'), ['-v', 'error', '-print_format', 'json', '-show_format', '-show_streams', path], { encoding: 'utf8' }));
  return parseProbe(json);
}

describe('movies made by FFmpeg', () => {
  it.each(ROWS)('read alike here and by ffprobe: $name at $rate, $label', async ({ name, rate, label, codec, more = [], size = '128x72' }) => {
    const path = join(temporaryFolder(), name);
    await makeMovie(path, { codec: [...codec, ...more], frames: 31, rate, timecode: label, size });
    const own = await readHeader(path);
    const other = await ffprobe(path);
    const [num = 0, den = 1] = rate.split('/').map(Number);
    expect(own).toMatchObject({ rate: { num, den }, frames: 31, completeness: { condition: 'whole', complete: true }, problems: [] });
    expect(own.timecode === undefined ? '' : formatTimecode(own.timecode)).toBe(label);
    const facts = ({ rate: r, timecode, raster, codec: c, reel, container }: MediaFacts): unknown => ({ r, timecode, raster, c, reel, container });
    expect(facts(own)).toEqual(facts(other));
    // A fragmented file's length is nowhere written; ffprobe does not count.
    if (name !== 'pieces.mp4') expect(other.frames).toBe(31);
  });

  it('are found out when cut off, which ffprobe and ExifTool do not notice of MXF', async () => {
    const path = join(temporaryFolder(), 'cut.mxf');
    await makeMovie(path, { codec: MPEG2, frames: 100, rate: '25', timecode: '10:00:00:00' });
    truncateSync(path, 20_000);
    expect((await readHeader(path)).completeness).toMatchObject({ condition: 'truncated', complete: false });
    expect(await ffprobe(path)).toMatchObject({ frames: 100, timecode: { frame: 900_000 } });
  });

  it('trimmed without re-encoding show the frames their edit list lets through, as ffprobe plays them', async () => {
    const folder = temporaryFolder();
    const whole = join(folder, 'whole.mp4');
    await makeMovie(whole, { codec: [...B_FRAMES, '-g', '100'], frames: 60, rate: '25' });
    const trimmed = join(folder, 'trimmed.mp4');
    const ffmpeg = await programPath('ffmpeg');
    execFileSync(ffmpeg, ['-v', 'error', '-ss', '0.8', '-i', whole, '-c', 'copy', trimmed]);
    const played = execFileSync(await programPath('ffprobe'), ['-v', 'error', '-count_frames', '-show_entries', 'stream=nb_read_frames', '-of', 'csv=p=0', trimmed], { encoding: 'utf8' });
    const own = await readHeader(trimmed);
    expect(own.frames).toBe(Number.parseInt(played, 10));
    expect(own.frames).toBe(40);
  });
});
