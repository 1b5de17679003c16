import { crc32, deflateSync } from 'node:zlib';
import type { RgbPicture } from '../../core/picture/measure/draw-match.ts';

const SIGNATURE = Buffer.from('89504e470d0a1a0a', 'hex');

/** A picture as PNG (W3C PNG, third edition): 8-bit RGB, each row as its difference from the row above. */
export function encodePng({ width, height, samples }: RgbPicture): Uint8Array {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 2, 0, 0, 0], 8);
  const rowBytes = 3 * width;
  const rows = Buffer.alloc((rowBytes + 1) * height);
  for (let y = 0; y < height; y++) {
    const at = y * (rowBytes + 1);
    rows[at] = 2;
    rows.set(samples.subarray(y * rowBytes, (y + 1) * rowBytes), at + 1);
    if (y > 0) lessAbove(rows, at + 1, samples, (y - 1) * rowBytes, rowBytes);
  }
  return new Uint8Array(Buffer.concat([SIGNATURE, chunk('IHDR', header), chunk('IDAT', deflateSync(rows, { level: 6 })), chunk('IEND', Buffer.alloc(0))]));
}

function lessAbove(rows: Uint8Array, to: number, samples: Uint8Array, above: number, count: number): void {
  for (let i = 0; i < count; i++) rows[to + i] = ((rows[to + i] ?? 0) - (samples[above + i] ?? 0)) & 0xff;
}

function chunk(name: string, content: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(name, 'latin1'), content]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(content.length);
  check.writeUInt32BE(crc32(named));
  return Buffer.concat([length, named, check]);
}
