import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import type { ProxyTools } from '../../../src/adapters/ffmpeg/decode-proxies.ts';
import { measureOrders } from '../../../src/adapters/ffmpeg/measure-orders.ts';
import type { MatchPicture } from '../../../src/core/picture/measure/match-picture.ts';
import type { PictureClip, PictureOrder } from '../../../src/ports.ts';
import { programPath, sharedFolder, temporaryFolder } from '../../support/make-media.ts';
import { makeSceneMovie } from '../../support/make-scene-movie.ts';
import type { Placement } from '../../support/scene.ts';
import { makeScene } from '../../support/scene.ts';

const folder = sharedFolder();
let tools: ProxyTools = { ffmpeg: '', ffprobe: '' };

function clip(path: string, frames: number, everyFrame = false): PictureClip {
  return { at: { clip: { file: path, kind: 'movie' }, path, rateText: '24' }, everyFrame, frames };
}

function orderOf(lead: PictureClip, pass: PictureClip, more: Partial<PictureOrder> = {}): PictureOrder {
  return { lead, pass, elements: [], offset: 0, offsetIsGuess: true, rate: { num: 24, den: 1 }, range: { start: 0, end: Number.MAX_SAFE_INTEGER }, movingCamera: false, wantsLine: false, ...more };
}

async function measure(order: PictureOrder): Promise<MatchPicture> {
  const [answer] = await measureOrders([order], tools, new AbortController().signal);
  if (answer === undefined || 'undecodable' in answer) throw new Error(answer?.undecodable ?? 'no answer');
  return answer.picture;
}

beforeAll(async () => {
  tools = { ffmpeg: await programPath('ffmpeg'), ffprobe: await programPath('ffprobe') };
});

describe('a move of the camera on movies', () => {
  const FRAMES = 44;
  const LATE = 7;
  const move = (frame: number): Placement => ({ dx: 9 * Math.sin((2 * Math.PI * frame) / 53) + 3 * Math.sin((2 * Math.PI * frame) / 19), dy: 2 * Math.sin((2 * Math.PI * frame) / 31) });

  it('tells to the frame how late the second pass made it, and that the camera moved', async () => {
    const scene = makeScene({ frames: FRAMES, noise: 0.5, lead: { camera: move }, swapped: { camera: (frame) => move(frame - LATE) } });
    const [lead, pass] = [join(folder, 'move-lead.mov'), join(folder, 'move-pass.mov')];
    await makeSceneMovie(lead, scene.lead);
    await makeSceneMovie(pass, scene.swapped);
    const picture = await measure(orderOf(clip(lead, FRAMES, true), clip(pass, FRAMES, true), { movingCamera: true }));
    expect(picture.lead.motion).toMatchObject({ kind: 'measured', is: 'moving', move: 'pan' });
    expect(picture.cameraMotion).toMatchObject({ kind: 'measured', offset: LATE });
    // What sound or a move tells is where the pictures are held against each other: there they lie over each other, in px of the plate.
    expect(picture.offset).toBe(LATE);
    expect(picture.registration.kind === 'measured' ? Math.abs(picture.registration.dx) : Infinity).toBeLessThan(0.2);
  }, 120_000);
});

describe('a green screen on movies', () => {
  /** A grey figure of 80 x 280 px before a screen, as ffmpeg draws them; `green` is the screen's own channel at column X. */
  const screen = (green: string, onFigure = 120): string => {
    const before = 'between(X\\,280\\,359)*gte(Y\\,80)';
    const channel = (name: string, figure: number, behind: string): string => `${name}='if(${before}\\,${figure}\\,${behind})'`;
    return `format=gbrp,geq=${[channel('r', 110, '40'), channel('g', onFigure, green), channel('b', 105, '50')].join(':')},format=yuv444p`;
  };
  const still = makeScene({ frames: 6, noise: 1 });
  const element = async (name: string, filters: string): Promise<MatchPicture['elements'][number]['screen']> => {
    const [lead, pass, at] = [join(folder, 'screen-lead.mov'), join(folder, 'screen-pass.mov'), join(folder, `${name}.mov`)];
    await makeSceneMovie(lead, still.lead);
    await makeSceneMovie(pass, still.swapped);
    await makeSceneMovie(at, still.lead, { filters, codec: ['-c:v', 'ffv1'] , size: '640x360' });
    const { elements } = await measure(orderOf(clip(lead, 6), clip(pass, 6), { elements: [clip(at, 6)] }));
    return elements[0]?.screen ?? { kind: 'cannot-tell', why: 'no element' };
  };

  it('finds the screen, how much of the frame it takes, and nothing wrong with it', async () => {
    const found = await element('even', screen('170'));
    expect(found.kind).toBe('measured');
    if (found.kind !== 'measured') return;
    // 1 less the figure's 80 x 280 of 640 x 360 px.
    expect(found.screenShare).toBeCloseTo(1 - (80 * 280) / (640 * 360), 1);
    expect(found.evenness.stops).toBeLessThan(0.1);
  }, 120_000);

  it('tells a screen that falls off from left to right', async () => {
    const found = await element('uneven', screen('190-90*X/640'));
    expect(found).toMatchObject({ kind: 'measured' });
    // 90 codes less on the right, by 40 codes a stop of a BT.709 curve near grey: between the outer of eight blocks 7/8 of 2.25 stops.
    if (found.kind === 'measured') expect(found.evenness.leftToRightStops).toBeCloseTo(-1.97, 1);
  }, 120_000);

  it('tells spill on whoever stands before it', async () => {
    const [clean, spilt] = [await element('no-spill', screen('170', 108)), await element('spill', screen('170', 140))];
    if (clean.kind !== 'measured' || spilt.kind !== 'measured') throw new Error('no screen was found');
    expect(spilt.spillShare).toBeGreaterThan(clean.spillShare + 0.5);
  }, 120_000);
});

describe('stopping in the middle of a decode', () => {
  it('leaves no ffmpeg running and no file behind', async () => {
    const here = temporaryFolder();
    vi.stubEnv('TMPDIR', here);
    try {
      const pidFile = join(here, 'pid');
      const lead = join(folder, 'stopped.mov');
      await makeSceneMovie(lead, makeScene({ frames: 2 }).lead);
      // The real program, decoding something that never ends.
      const endless = join(here, 'endless');
      writeFileSync(endless, `#!/bin/sh\necho $$ > '${pidFile}'\nexec '${tools.ffmpeg}' -v error -f lavfi -i testsrc2=s=320x180 -pix_fmt gray16le -f rawvideo pipe:1\n`, { mode: 0o755 });
      const stop = new AbortController();
      const measured = measureOrders([orderOf(clip(lead, 2), clip(lead, 2))], { ...tools, ffmpeg: endless }, stop.signal);
      const ended = expect(measured).rejects.toThrow(/stopped by hand/u);
      await vi.waitFor(() => { expect(existsSync(pidFile) && readFileSync(pidFile, 'utf8').endsWith('\n')).toBe(true); }, { timeout: 30_000 });
      stop.abort(new Error('stopped by hand'));
      await ended;
      const pid = Number(readFileSync(pidFile, 'utf8'));
      expect(() => process.kill(pid, 0)).toThrow(/ESRCH/u);
      expect(readdirSync(here).filter((name) => name.startsWith('gemel-proxies'))).toEqual([]);
    } finally {
      vi.unstubAllEnvs();
    }
  }, 60_000);
});
