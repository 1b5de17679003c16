import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { ProxyTools } from '../../../src/adapters/ffmpeg/decode-proxies.ts';
import { decodeProxies } from '../../../src/adapters/ffmpeg/decode-proxies.ts';
import { measureOrders } from '../../../src/adapters/ffmpeg/measure-orders.ts';
import { streamProxies } from '../../../src/adapters/ffmpeg/proxy-stream.ts';
import type { MatchPicture } from '../../../src/core/picture/measure/match-picture.ts';
import { frameRange } from '../../../src/core/timecode/range.ts';
import type { PictureClip, PictureOrder } from '../../../src/ports.ts';
import { makeFile, makeSequence, programPath, sharedFolder, temporaryFolder } from '../../support/make-media.ts';
import type { SceneMovie } from '../../support/make-scene-movie.ts';
import { makeSceneMovie } from '../../support/make-scene-movie.ts';
import type { Scene } from '../../support/scene.ts';
import { makeScene } from '../../support/scene.ts';

const signal = new AbortController().signal;
const FRAMES = 12;
let tools: ProxyTools = { ffmpeg: '', ffprobe: '' };
let scene: Scene;
const folder = sharedFolder();

function clip(path: string, more: Partial<PictureClip> = {}): PictureClip {
  return { at: { clip: { file: path, kind: 'movie' }, path, rateText: '24' }, everyFrame: false, frames: FRAMES, ...more };
}

async function measure(lead: PictureClip, pass: PictureClip, more: Partial<PictureOrder> = {}): Promise<MatchPicture> {
  const [answer] = await measureOrders([{
    lead, pass, elements: [], offset: 0, offsetIsGuess: true, rate: { num: 24, den: 1 }, range: { start: 0, end: Number.MAX_SAFE_INTEGER }, movingCamera: false, wantsLine: true, ...more,
  }], tools, signal);
  if (answer === undefined || 'undecodable' in answer) throw new Error(answer?.undecodable ?? 'no answer');
  return answer.picture;
}

/** Both passes of the scene, photographed in one odd way. */
async function photograph(name: string, movie: SceneMovie, ending = 'mov'): Promise<MatchPicture> {
  const [lead, pass, clean] = [join(folder, `${name}-lead.${ending}`), join(folder, `${name}-swapped.${ending}`), join(folder, `${name}-clean.${ending}`)];
  await makeSceneMovie(lead, scene.lead, movie);
  await makeSceneMovie(pass, scene.swapped, movie);
  await makeSceneMovie(clean, scene.clean, movie);
  return measure(clip(lead), clip(pass), { clean: clip(clean) });
}

beforeAll(async () => {
  tools = { ffmpeg: await programPath('ffmpeg'), ffprobe: await programPath('ffprobe') };
  const [left, right] = [85, 235];
  scene = makeScene({
    frames: FRAMES, noise: 1, seed: 3, clean: { frames: FRAMES },
    lead: { figures: [{ x: left, height: 105, tone: 35 }, { x: right, height: 105, tone: 215 }] },
    swapped: { camera: { dx: 1 }, figures: [{ x: left, height: 105, tone: 215 }, { x: right, height: 105, tone: 35 }] },
  });
});

describe('odd pictures', () => {
  const lossless = ['-c:v', 'ffv1'];
  it.each([
    ['an odd raster', { size: '961x541', codec: [...lossless, '-pix_fmt', 'gbrp'] }, 'mkv', 3],
    ['interlaced', { size: '960x540', codec: ['-c:v', 'mpeg2video', '-q:v', '2', '-flags', '+ildct+ilme', '-pix_fmt', 'yuv422p'], filters: 'setfield=tff' }, 'mxf', 3],
    ['an alpha channel', { size: '960x540', codec: ['-c:v', 'prores_ks', '-profile:v', '4', '-pix_fmt', 'yuva444p10le'] }, 'mov', 3],
    ['4:4:4 and 12 bit', { size: '960x540', codec: [...lossless, '-pix_fmt', 'yuv444p12le'] }, 'mkv', 3],
    ['an anamorphic squeeze', { size: '640x720', codec: [...lossless, '-pix_fmt', 'yuv420p'], filters: 'setsar=2/1' }, 'mkv', 2],
  ] as const)('measures pictures with %s', async (name, movie, ending, perProxyPx) => {
    const picture = await photograph(name.replaceAll(/\W/g, ''), movie, ending);
    expect(picture.split?.verdict).toBe('yes');
    // The swapped picture lies 1 px of the 320 px scene to the right.
    expect(picture.registration).toMatchObject({ kind: 'measured' });
    if (picture.registration.kind === 'measured') expect(Math.abs(picture.registration.dx - perProxyPx)).toBeLessThan(0.15);
  }, 180_000);

  it('turns pictures upright as their rotation flag says, and measures in the upright plate', async () => {
    const upright = join(folder, 'upright.mov');
    await makeSceneMovie(upright, scene.lead, { size: '960x540' });
    const turned = join(folder, 'turned.mov');
    execFileSync(tools.ffmpeg, ['-v', 'error', '-y', '-i', upright, '-c', 'copy', '-metadata:s:v:0', 'rotate=90', turned]);
    using decoded = await decodeProxies(clip(turned), tools, signal);
    expect([decoded.raster, decoded.proxy]).toEqual([{ width: 540, height: 960 }, { width: 180, height: 320 }]);
    // Beside the upright one, whose frames have another shape, nothing is claimed.
    const picture = await measure(clip(upright), clip(turned));
    expect(picture.split?.verdict).toBe('cannot tell');
    expect(picture.registration).toMatchObject({ kind: 'cannot-tell', why: 'the frames have unlike shapes (960 x 540 and 540 x 960)' });
  }, 180_000);

  it('compares passes of unlike raster where they show one shape', async () => {
    const [lead, pass] = [join(folder, 'small.mov'), join(folder, 'large.mov')];
    await makeSceneMovie(lead, scene.lead, { size: '640x360' });
    await makeSceneMovie(pass, scene.swapped, { size: '1280x720' });
    const picture = await measure(clip(lead), clip(pass));
    expect(picture.raster).toEqual({ width: 640, height: 360 });
    if (picture.registration.kind === 'measured') expect(Math.abs(picture.registration.dx - 2)).toBeLessThan(0.1);
    expect(picture.registration.kind).toBe('measured');
  }, 180_000);

  it('counts every frame of a movie of variable rate once', async () => {
    const path = join(folder, 'variable.mp4');
    await makeSceneMovie(path, scene.lead, { size: '640x360', codec: ['-c:v', 'libx264', '-crf', '12', '-pix_fmt', 'yuv420p'], filters: "setpts='(N+floor(N/4)*3)/24/TB'", more: ['-vsync', 'vfr'] });
    using decoded = await decodeProxies(clip(path), tools, signal);
    expect(decoded.numbers).toEqual(Array.from({ length: FRAMES }, (_, i) => i));
  }, 180_000);

  it('answers about one-frame clips, and claims no motion of them', async () => {
    const [lead, pass] = [join(folder, 'one-lead.mov'), join(folder, 'one-swapped.mov')];
    await makeSceneMovie(lead, scene.lead.slice(0, 1));
    await makeSceneMovie(pass, scene.swapped.slice(0, 1));
    const picture = await measure(clip(lead, { frames: 1 }), clip(pass, { frames: 1 }));
    expect(picture.lead.motion).toEqual({ kind: 'cannot-tell', why: 'one frame has no motion' });
    expect(picture.grain.kind).toBe('cannot-tell');
    expect(picture.registration.kind).toBe('measured');
  }, 180_000);

  it.each([
    ['silence', 'anullsrc=r=48000:cl=mono', 'anullsrc=r=48000:cl=mono', 'a guide track is silent'],
    ['mono against stereo of other sounds', 'anoisesrc=r=48000:seed=1', 'anoisesrc=r=48000:seed=2,aformat=channel_layouts=stereo', 'no common sound'],
    ['a track shorter than the picture', 'anoisesrc=r=48000:seed=1:d=0.2', 'anoisesrc=r=48000:seed=1', 'a guide track is shorter than 2 s'],
  ])('cannot tell the sync from %s', async (name, first, second, why) => {
    const stem = name.replaceAll(/\W/g, '');
    const film = async (file: string, sound: string): Promise<PictureClip> => {
      const path = join(folder, `${stem}-${file}.mov`);
      await makeFile(path, ['-f', 'lavfi', '-i', 'testsrc2=size=640x360:rate=24', '-f', 'lavfi', '-i', sound, '-t', '4', '-c:v', 'mjpeg', '-pix_fmt', 'yuvj422p', '-c:a', 'pcm_s16le']);
      return clip(path, { frames: 96 });
    };
    const picture = await measure(await film('lead', first), await film('swapped', second), { wantsLine: false });
    expect(picture.sound.kind).toBe('cannot-tell');
    if (picture.sound.kind === 'cannot-tell') expect(picture.sound.why).toContain(why);
  }, 180_000);

  it('says why a picture too small, no movie at all and a lead cut to nothing give no measurement', async () => {
    const [small, none, cut] = [join(folder, 'small-picture.mov'), join(folder, 'none.mov'), join(folder, 'cut.mov')];
    await makeSceneMovie(small, scene.lead, { size: '320x180' });
    writeFileSync(none, 'this is no movie');
    writeFileSync(cut, '');
    for (const [path, why] of [[small, '320 x 180 px, at least 640 are needed'], [none, 'ffprobe said'], [cut, 'ffprobe said']] as const) {
      await expect(decodeProxies(clip(path), tools, signal)).rejects.toThrow(why);
    }
  }, 180_000);

  it('keeps the numbers of a sequence with a hole', async () => {
    const frames = temporaryFolder();
    await makeSequence(frames, 'plate', 'png', 4, 1001);
    const picture = execFileSync(tools.ffmpeg, ['-v', 'error', '-y', '-f', 'lavfi', '-i', 'testsrc2=size=640x360:rate=24', '-frames:v', '6', '-start_number', '1001', join(frames, 'wide.%04d.png')]);
    expect(picture.length).toBe(0);
    execFileSync('rm', [join(frames, 'wide.1003.png')]);
    const sequence = { first: 1001, last: 1006, padding: 4, missing: [frameRange(1003, 1004)] };
    using decoded = await decodeProxies({ at: { clip: { file: 'wide.####.png', kind: 'sequence', sequence }, path: join(frames, 'wide.####.png'), rateText: '24' }, everyFrame: false, frames: 5 }, tools, signal);
    expect(decoded.numbers).toEqual([0, 1, 3, 4, 5]);
  }, 180_000);

  it('stops a program that writes nothing', async () => {
    const started = performance.now();
    const sink = { luma: (): void => {}, colour: (): void => {}, sound: (): void => {} };
    const end = await streamProxies('sleep', ['60'], sink, { lumaBytes: 2, colourBytes: 6, stallMs: 300, signal });
    expect(end.stalled).toBe(true);
    expect(performance.now() - started).toBeLessThan(20_000);
  }, 30_000);
});
