import { execFileSync, spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { frameFromSixteenBit } from '../../../src/core/picture/frame.ts';
import type { FrameFaults } from '../../../src/core/picture/stream/judge-frames.ts';
import { watchFrames } from '../../../src/core/picture/stream/watch-frames.ts';
import { outsideProgram } from '../../support/outside.ts';

// Moving bars with grain, frame 19 held for 12, then 10 frames of black, then bars again; 24 frames a second.
const GRAPH = 'testsrc2=s=320x180:r=24:d=1.5,noise=alls=6:allf=t,loop=loop=11:size=1:start=20,setpts=N/24/TB[a];color=black:s=320x180:r=24,trim=end_frame=10[b];testsrc2=s=320x180:r=24:d=1,noise=alls=6:allf=t[c];[a]format=yuv420p[a1];[b]format=yuv420p[b1];[c]format=yuv420p[c1];[a1][b1][c1]concat=n=3,fps=24,settb=1/24,setpts=N';

function own(): FrameFaults {
  const raw = execFileSync('ffmpeg', ['-v', 'error', '-filter_complex', `${GRAPH},format=gray16le`, '-f', 'rawvideo', '-'], { maxBuffer: 100_000_000 });
  const samples = new Uint16Array(raw.buffer.slice(raw.byteOffset, raw.byteOffset + raw.byteLength));
  const watcher = watchFrames({ kind: 'linear' });
  for (let at = 0; at < samples.length; at += 57_600) watcher.push(frameFromSixteenBit(320, 180, samples.subarray(at, at + 57_600)));
  return watcher.finish();
}

/** What one of ffmpeg's detectors says on standard error, the times of `start` and `end` as frames. */
function detected(filter: string, start: RegExp, end: RegExp): readonly { readonly start: number; readonly end: number }[] {
  const { stderr } = spawnSync('ffmpeg', ['-hide_banner', '-filter_complex', `${GRAPH},${filter}`, '-f', 'null', '-'], { encoding: 'utf8' });
  const frames = (pattern: RegExp): readonly number[] => [...stderr.matchAll(pattern)].map((found) => Math.round(24 * Number(found[1])));
  const ends = frames(end);
  return frames(start).map((frame, i) => ({ start: frame, end: ends[i] ?? -1 }));
}

describe.skipIf(!outsideProgram('ffmpeg'))('faults of frames', () => {
  it("are frozen where ffmpeg's freezedetect says so", () => {
    const frozen = detected('freezedetect=n=0.0005:d=0.1', /freeze_start: ([\d.]+)/g, /freeze_end: ([\d.]+)/g);
    expect(frozen[0]).toEqual({ start: 19, end: 31 });
    // A black frame without grain is frozen by nature: ffmpeg says so, we call it blank.
    const faults = own();
    expect([...faults.frozen, ...faults.blank].toSorted((a, b) => a.start - b.start)).toEqual(frozen);
  });

  it("are black where ffmpeg's blackdetect says so", () => {
    const black = detected('blackdetect=d=0.04:pic_th=0.98:pix_th=0.10', /black_start:([\d.]+)/g, /black_end:([\d.]+)/g);
    expect(black).toHaveLength(1);
    expect(own().black).toEqual(black);
  });
});
