import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { crc32, deflateSync } from 'node:zlib';
import { expect, it } from 'vitest';
import { FfmpegFrameSource } from '../../../src/adapters/ffmpeg/ffmpeg-frame-source.ts';
import { programPath, temporaryFolder } from '../../support/make-media.ts';
import { makeClip } from '../../support/make-clips.ts';

function png(width: number, height: number): Buffer {
  const chunk = (type: string, content: Buffer): Buffer => {
    const body = Buffer.concat([Buffer.from(type, 'latin1'), content]);
    const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
    length.writeUInt32BE(content.length);
    sum.writeUInt32BE(crc32(body));
    return Buffer.concat([length, body, sum]);
  };
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 2], 8);
  return Buffer.concat([Buffer.from('89504e470d0a1a0a', 'hex'), chunk('IHDR', header), chunk('IDAT', deflateSync(Buffer.alloc((3 * width + 1) * Math.min(height, 100)))), chunk('IEND', Buffer.alloc(0))]);
}

it('a picture whose header claims 256 million pixels is not decoded, one of usual size is', async () => {
  const folder = temporaryFolder();
  const ffmpeg = await programPath('ffmpeg');
  const still = async (name: string, width: number, height: number): Promise<boolean> => {
    const path = join(folder, `${name}.####.png`);
    writeFileSync(join(folder, `${name}.0001.png`), png(width, height));
    const clip = makeClip(`${name}.####.png`, { kind: 'sequence', sequence: { first: 1, last: 1, padding: 4, missing: [] } });
    const [picture] = await new FfmpegFrameSource(ffmpeg, 20_000).stills({ path, clip, rateText: '24/1' }, [0], 64, new AbortController().signal);
    return picture !== undefined;
  };
  expect(await still('usual', 640, 100)).toBe(true);
  expect(await still('claimed', 16_000, 16_000)).toBe(false);
});
