import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { beforeAll, describe, expect, it } from 'vitest';
import type { LumaFrame } from '../../src/core/picture/frame.ts';
import { sharedFolder } from '../support/make-media.ts';
import type { SceneMovie } from '../support/make-scene-movie.ts';
import { makeSceneMovie } from '../support/make-scene-movie.ts';
import { fingerprintTree, runGemel } from '../support/run-gemel.ts';
import type { SceneOptions, ScenePass } from '../support/scene.ts';
import { makeScene } from '../support/scene.ts';

interface PictureBlock {
  readonly cannotTell?: string;
  readonly registration: { readonly dx: number };
  readonly split: { readonly verdict: string; readonly kind: string; readonly badFrames: readonly (readonly number[])[] };
  readonly offset: number;
}
interface ReportedSet {
  readonly slate: string;
  readonly verdict: string;
  readonly reason: string;
  readonly matches: readonly { readonly swapped: { readonly offset: number; readonly sync: { readonly method: string } }; readonly picture?: PictureBlock }[];
  readonly findings: readonly { readonly code: string; readonly severity: string; readonly consequence: string }[];
}

const FRAMES = 30;
/** A third as high as the frame again, dark on the left and pale on the right; the swapped pass the other way round. */
const pair = (left: number, right: number, more: (frame: number) => number = () => 0): readonly [ScenePass, ScenePass] => {
  const figures = (a: number, b: number): ScenePass['figures'] => [{ x: (frame) => left + more(frame), height: 105, tone: a, stride: 24 }, { x: (frame) => right - more(frame), height: 105, tone: b, stride: 31 }];
  return [{ figures: figures(35, 215) ?? [] }, { figures: figures(215, 35) ?? [] }];
};
const [leadPass, swappedPass] = pair(85, 235);
const meet = (frame: number): number => 66 * Math.max(0, 1 - Math.abs(frame - 15) / 9);
const [hugLead, hugSwapped] = pair(85, 235, meet);

const SETS: Readonly<Record<string, SceneOptions>> = {
  '12A': { lead: leadPass, swapped: swappedPass },
  '12B': { lead: hugLead, swapped: hugSwapped },
  '12C': { lead: leadPass, swapped: swappedPass, clean: { frames: 24, figures: [{ x: 160, height: 70, tone: 120 }] } },
  '12D': { lead: leadPass, swapped: { ...swappedPass, camera: { dx: 3 }, gain: 1.12 } },
};

/** The published schema lets objects gain keys; closed, it must describe every key written today. */
function closed(node: unknown): unknown {
  if (Array.isArray(node)) return node.map(closed);
  if (typeof node !== 'object' || node === null) return node;
  const parts = Object.fromEntries(Object.entries(node).map(([key, part]) => [key, closed(part)]));
  return 'properties' in parts && typeof parts['required'] === 'object' ? { ...parts, additionalProperties: false } : parts;
}

/** A day of four set-ups of known truth: nothing wrong, a hug, somebody in the clean plate, a nudged camera in other light. */
async function shootDay(folder: string): Promise<void> {
  mkdirSync(join(folder, 'A001'), { recursive: true });
  const rows = ['file,slate,take,pass,tc_in,lens,focal_length'];
  let clip = 1;
  for (const [slate, options] of Object.entries(SETS)) {
    const scene = makeScene({ frames: FRAMES, noise: 1, seed: 5, clean: { frames: 24 }, ...options });
    for (const pass of ['lead', 'swapped', 'clean'] as const) {
      const file = `A001C${String(clip).padStart(3, '0')}.mov`;
      await makeSceneMovie(join(folder, 'A001', file), [...scene[pass]], { timecode: `10:${String(clip).padStart(2, '0')}:00:00` });
      rows.push(`${file},${slate},1,${pass},,Osprey,35`);
      clip++;
    }
  }
  writeFileSync(join(folder, 'report.csv'), `${rows.join('\n')}\n`);
}

describe('a day whose pictures are looked at', () => {
  const folder = sharedFolder();
  const media = join(folder, 'media');
  const out = join(folder, 'out');
  let sets: readonly ReportedSet[] = [];
  let before: readonly string[] = [];
  let tree: readonly string[] = [];
  const of = (slate: string): ReportedSet => {
    const found = sets.find((set) => set.slate === slate);
    if (found === undefined) throw new Error(`no set ${slate}`);
    return found;
  };
  const codes = (slate: string, severity?: string): readonly string[] => of(slate).findings.filter((finding) => severity === undefined || finding.severity === severity).map(({ code }) => code);

  beforeAll(async () => {
    await shootDay(media);
    before = fingerprintTree(media);
    const run = runGemel(['check', media, '--out', out, '--settle', '0'], folder);
    expect(run.err).toBe('');
    sets = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')).sets;
    tree = fingerprintTree(media);
  }, 400_000);

  it('clears a set whose passes join, and says that a line joins them', () => {
    expect(of('12A')).toMatchObject({ verdict: 'yes', matches: [{ picture: { split: { verdict: 'yes', kind: 'static' } } }] });
    expect(of('12A').reason).toContain('one standing line joins their pictures');
  });

  it('turns a yes of the papers into a no where no line runs between the performers, and says which', () => {
    expect(of('12B').verdict).toBe('no');
    expect(of('12B').reason).toContain('no split line');
    expect(codes('12B', 'stop')).toEqual(['no-split-line']);
  });

  it('asks to look at a clean plate in which somebody stands', () => {
    expect(codes('12C')).toContain('person-in-clean-plate');
    expect(of('12C').verdict).toBe('look');
  });

  it('measures a nudged camera in px of the plate, and its light in stops', () => {
    // 3 px of the 320 px scene are 6 of the 640 px plate.
    expect(of('12D').matches[0]?.picture?.registration.dx).toBeCloseTo(6, 0);
    expect(codes('12D')).toEqual(expect.arrayContaining(['misregistered', 'exposure-differs']));
  });

  it('accuses nothing else', () => {
    const picture = ['misregistered', 'exposure-differs', 'colour-differs', 'camera-moved', 'no-split-line', 'person-in-clean-plate', 'frozen-frames', 'black-frames'];
    const accused = sets.flatMap(({ slate, findings }) => findings.filter(({ code }) => picture.includes(code)).map(({ code }) => `${slate} ${code}`));
    expect([...new Set(accused)].toSorted()).toEqual(['12B no-split-line', '12C person-in-clean-plate', '12D exposure-differs', '12D misregistered']);
  });

  it('shows the line, the difference and the figures on the board, with its sheets', () => {
    const board = readFileSync(join(out, 'board.html'), 'utf8');
    expect(board.split('Measured in the pictures').length - 1).toBe(4);
    expect(board.split('data:image/png;base64').length - 1).toBeGreaterThanOrEqual(12);
    expect(readdirSync(join(out, 'sheets')).toSorted()).toEqual(['12A-A.pdf', '12B-A.pdf', '12C-A.pdf', '12D-A.pdf']);
  });

  it('writes a report that its published schema describes to the last key', () => {
    const schema: unknown = JSON.parse(readFileSync(new URL('../../docs/report.schema.json', import.meta.url), 'utf8'));
    const report: unknown = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8'));
    const validate = new Ajv2020({ allErrors: true, strictTypes: false }).compile(closed(schema) as object);
    expect(validate(report) ? [] : validate.errors).toEqual([]);
  });

  it('touches no clip', () => {
    expect(tree).toEqual(before);
  });

  it('decodes nothing on a second run, and says the same', () => {
    const first = readFileSync(join(out, 'report.json'), 'utf8');
    // An ffmpeg that only ever fails: whatever is still decoded fails the run.
    const broken = join(folder, 'no-ffmpeg');
    writeFileSync(broken, '#!/bin/sh\nif [ "$1" = "-version" ]; then echo "ffmpeg version 5.1"; exit 0; fi\nexit 1\n', { mode: 0o755 });
    const again = runGemel(['check', media, '--out', out, '--settle', '0', '--no-sheets'], folder, { GEMEL_FFMPEG: broken });
    expect(again.code).toBe(1);
    expect(readFileSync(join(out, 'report.json'), 'utf8')).toBe(first);
  }, 120_000);

  it('leaves the pictures alone when asked to', () => {
    runGemel(['check', media, '--out', join(folder, 'blind'), '--settle', '0', '--no-sheets', '--no-picture'], folder);
    const blind: { readonly sets: readonly ReportedSet[] } = JSON.parse(readFileSync(join(folder, 'blind', 'report.json'), 'utf8'));
    expect(blind.sets.map(({ verdict }) => verdict)).toEqual(['yes', 'yes', 'yes', 'yes']);
    expect(blind.sets.flatMap(({ matches }) => matches.map(({ picture }) => picture))).toEqual([undefined, undefined, undefined, undefined]);
  }, 120_000);
});

describe('sound that tells the sync', () => {
  const folder = sharedFolder();

  it('lays the swapped pass where both tracks carry the same playback, to the frame', async () => {
    const media = join(folder, 'media');
    mkdirSync(media, { recursive: true });
    const rate = 48_000;
    const [seconds, offset] = [4, 9];
    let state = 12_345;
    const random = (): number => { state = (Math.imul(state, 1_103_515_245) + 12_345) >>> 0; return state / 2 ** 32 - 0.5; };
    // Bursts of noise, as words are.
    const playback = Float32Array.from({ length: rate * (seconds + 2) }, (_, i) => random() * (Math.sin(i / 3001) * Math.sin(i / 7919) > 0.2 ? 0.6 : 0.02));
    const late = Math.round((offset * rate) / 24);
    const leadSound = playback.subarray(late, late + rate * seconds);
    const swappedSound = playback.subarray(0, rate * seconds);
    const scene = makeScene({ frames: 2, noise: 1, lead: leadPass, swapped: swappedPass, clean: { frames: 2 } });
    const long = (frames: readonly LumaFrame[], length: number): readonly LumaFrame[] => Array.from({ length }, (_, i) => frames[i % frames.length]).filter((frame) => frame !== undefined);
    const film = (name: string, frames: readonly LumaFrame[], more: SceneMovie, length = 24 * seconds): Promise<void> => makeSceneMovie(join(media, name), long(frames, length), more);
    await film('A001C001.mov', scene.lead, { timecode: '10:00:00:00', sound: leadSound });
    await film('A001C002.mov', scene.swapped, { timecode: '10:05:00:00', sound: swappedSound });
    await film('A001C003.mov', scene.clean, { timecode: '10:09:00:00' }, 24);
    writeFileSync(join(media, 'report.csv'), 'file,slate,take,pass\nA001C001.mov,5,1,lead\nA001C002.mov,5,1,swapped\nA001C003.mov,5,1,clean\n');
    const run = runGemel(['check', media, '--out', join(folder, 'out'), '--settle', '0', '--no-sheets', '--json'], folder);
    expect(run.err).toBe('');
    const { sets }: { readonly sets: readonly ReportedSet[] } = JSON.parse(run.out);
    expect(sets[0]?.matches[0]).toMatchObject({ swapped: { offset, sync: { method: 'guide-audio' } }, picture: { offset, split: { verdict: 'yes' } } });
  }, 300_000);
});
