import type { ColourFrame, LumaFrame } from '../../src/core/picture/frame.ts';
import { checkPlate } from '../../src/core/picture/plate/check-plate.ts';
import { checkScreen } from '../../src/core/picture/screen/check-screen.ts';
import type { FrameFaults } from '../../src/core/picture/stream/judge-frames.ts';
import { watchFrames } from '../../src/core/picture/stream/watch-frames.ts';
import type { PictureAnswer, PictureCase } from './picture-case.ts';
import { pair } from './picture-cases.ts';
import { gaussianFrom, randomFrom } from './random.ts';
import type { SceneOptions, ScenePass } from './scene.ts';
import { makeScene, softShadow } from './scene.ts';

/** What a plate is accused of: an object in it, something that moves, or nothing worse than light and small things. */
function plateAnswer(options: SceneOptions): PictureAnswer {
  const noise = options.noise ?? 1;
  const { lead, swapped, clean } = makeScene({ seed: 61, frames: 12, ...options, lead: { figures: pair(105) }, swapped: { figures: pair(105, true) } });
  const check = checkPlate(lead, swapped, clean, noise);
  if (check.kind === 'cannot-tell') return { kind: 'cannot tell', words: check.why };
  const worst = check.differences[0];
  const object = check.differences.some(({ kind }) => kind === 'object');
  const moves = check.activity.places.length > 0 || check.activity.frames.length > 0;
  const words = `${JSON.stringify(worst)}, moving ${JSON.stringify(check.activity)}`;
  return { kind: object || moves ? 'found' : 'quiet', words };
}

function plateCase(name: string, truth: 'found' | 'quiet', clean: ScenePass, options: SceneOptions = {}): PictureCase {
  return { subject: truth === 'found' ? 'clean plate: someone in it' : 'clean plate: nobody in it', name, truth, run: () => plateAnswer({ ...options, clean }) };
}

function plates(): readonly PictureCase[] {
  const shadow = (strength: number): ScenePass => ({ light: softShadow({ x: 150, y: 110, radiusX: 45, radiusY: 35, strength }) });
  const person = (height: number, contrast: number, x = 165): ScenePass => ({ figures: [{ x, height, contrast, stride: 0 }] });
  const quiet = [
    ...(['room', 'bare-room', 'home', 'alpine'] as const).map((backdrop) => plateCase(`nobody, ${backdrop}`, 'quiet', {}, { backdrop })),
    plateCase('nobody, one frame', 'quiet', { frames: 1 }),
    plateCase('nobody, a tenth darker', 'quiet', { gain: 0.9 }),
    plateCase('nobody, .12 px off', 'quiet', { camera: { dx: 0.12 } }),
    plateCase('nobody, noise of 2.5 codes', 'quiet', {}, { noise: 2.5 }),
    plateCase('nobody, lamps flicker by 2 %', 'quiet', { gain: (t) => 1 + 0.02 * Math.sin(2 * t) }),
    plateCase('nobody, light falls off by 8 %', 'quiet', { light: (x) => 1 - (0.08 * x) / 320 }),
    plateCase('soft shadow of 8 %', 'quiet', shadow(0.08)),
    plateCase('soft shadow of 15 %', 'quiet', shadow(0.15)),
    plateCase('prop of 14 x 12 px moved', 'quiet', { patches: [{ x: 100, y: 120, width: 14, height: 12, contrast: 30 }] }),
  ];
  const found = [
    ...[4, -4, 10, 30, -30].map((contrast) => plateCase(`60 px high, contrast ${contrast}`, 'found', person(60, contrast))),
    ...[4, -8].map((contrast) => plateCase(`105 px high, contrast ${contrast}`, 'found', person(105, contrast))),
    plateCase('60 px high, contrast 4, noise of 2 codes', 'found', person(60, 4), { noise: 2 }),
    plateCase('60 px high, contrast 6, before trees', 'found', person(60, 6), { backdrop: 'alpine' }),
    plateCase('60 px high, contrast -6, before a house', 'found', person(60, -6, 120), { backdrop: 'home' }),
    plateCase('walks through in three frames of twelve', 'found', { figures: [{ x: (t) => (t > 4 && t < 8 ? 140 + 8 * t : -200), height: 90, tone: 45 }] }),
    plateCase('sways on a mark of the performers', 'found', { figures: [{ x: (t) => 75 + Math.sin(t), height: 105, tone: 45, stride: 0 }] }),
    plateCase('a door left open', 'found', { patches: [{ x: 145, y: 40, width: 40, height: 105, contrast: 8 }] }),
  ];
  return [...quiet, ...found];
}

/** A lit screen with a grey card before it; codes are linear. */
function screenFrame({ across, spill, noise }: { readonly across: number; readonly spill: number; readonly noise: number }): ColourFrame {
  const [width, height] = [160, 90];
  const gaussian = gaussianFrom(randomFrom(71));
  const [red, green, blue] = [new Float32Array(width * height), new Float32Array(width * height), new Float32Array(width * height)];
  for (let i = 0; i < width * height; i++) {
    const x = i % width;
    const card = x >= 60 && x < 100 && i >= 20 * width;
    const light = 2 ** ((across * x) / width);
    red[i] = (card ? 90 : 30 * light) + noise * gaussian();
    green[i] = (card ? 90 + spill : 120 * light) + noise * gaussian();
    blue[i] = (card ? 88 : 35 * light) + noise * gaussian();
  }
  return { width, height, red, green, blue };
}

function screens(): readonly PictureCase[] {
  const spillCase = (name: string, truth: 'found' | 'quiet', spill: number): PictureCase => ({ subject: 'screen', name, truth, run: () => {
    const check = checkScreen(screenFrame({ across: 0, spill, noise: 0.5 }), { encoding: { kind: 'linear' } });
    if (check.kind === 'cannot-tell') return { kind: 'cannot tell', words: check.why };
    return { kind: check.spillShare > 0.02 ? 'found' : 'quiet', words: JSON.stringify(check) };
  } });
  const evenCase = (name: string, across: number): PictureCase => ({ subject: 'screen', name, truth: 'measured', limit: 0.05, unit: 'stop', run: () => {
    const check = checkScreen(screenFrame({ across, spill: 0, noise: 0.5 }), { encoding: { kind: 'linear' } });
    if (check.kind === 'cannot-tell') return { kind: 'cannot tell', words: check.why };
    // Blocks have the light of their middles: seven eighths of what the whole frame has.
    return { kind: 'measured', error: Math.abs(check.evenness.leftToRightStops - (across * 7) / 8), words: JSON.stringify(check.evenness) };
  } });
  return [
    spillCase('spill of a tenth on a grey card', 'found', 12),
    spillCase('spill of a quarter on a grey card', 'found', 30),
    spillCase('a grey card without spill', 'quiet', 0),
    evenCase('even light', 0),
    evenCase('a stop brighter on the right', 1),
    evenCase('half a stop brighter on the left', -0.5),
    { subject: 'screen', name: 'no screen in the picture', truth: 'cannot tell', run: () => {
      const frame = screenFrame({ across: 0, spill: 0, noise: 1 });
      const check = checkScreen({ ...frame, green: frame.red }, { encoding: { kind: 'linear' } });
      return { kind: check.kind === 'cannot-tell' ? 'cannot tell' : 'found', words: check.kind };
    } },
  ];
}

/** Frames of a walking figure, taken in the order given by their numbers. */
function watched(order: readonly number[], change: (frame: LumaFrame, position: number) => LumaFrame = (frame) => frame): FrameFaults {
  const { lead } = makeScene({ seed: 81, frames: Math.max(...order) + 1, lead: { figures: [{ x: (t) => 60 + 3 * t, height: 105 }] }, swapped: { frames: 0 }, clean: { frames: 0 } });
  const watcher = watchFrames({ kind: 'linear' });
  for (const [position, number] of order.entries()) {
    const frame = lead[number];
    if (frame !== undefined) watcher.push(change(frame, position));
  }
  return watcher.finish();
}

function frameCase(name: string, truth: 'found' | 'quiet', run: () => FrameFaults, said: (faults: FrameFaults) => boolean): PictureCase {
  return { subject: 'frames', name, truth, run: () => {
    const faults = run();
    return { kind: said(faults) ? 'found' : 'quiet', words: JSON.stringify(faults) };
  } };
}

function frames(): readonly PictureCase[] {
  const plain = Array.from({ length: 24 }, (_, i) => i);
  const grade = (from: number, end: number, gain: number, offset: number) => (frame: LumaFrame, position: number): LumaFrame =>
    position >= from && position < end ? { ...frame, values: frame.values.map((value) => Math.min(255, gain * value + offset)) } : frame;
  const any = ({ frozen, repeated, cadence, black, blank, flashes }: FrameFaults): boolean => frozen.length + repeated.length + black.length + blank.length + flashes.length > 0 || cadence !== undefined;
  const noisy = gaussianFrom(randomFrom(82));
  const recoded = (frame: LumaFrame, position: number): LumaFrame => (position === 11 ? { ...frame, values: frame.values.map((value) => value + 0.05 * noisy()) } : frame);
  return [
    frameCase('nothing wrong', 'quiet', () => watched(plain), any),
    frameCase('five frames frozen', 'found', () => watched([...plain.slice(0, 10), 9, 9, 9, 9, ...plain.slice(10, 20)]), ({ frozen, repeated }) => frozen.length === 1 && frozen[0]?.start === 9 && frozen[0].end === 14 && repeated.length === 0),
    frameCase('one frame repeated', 'found', () => watched([...plain.slice(0, 10), 9, ...plain.slice(10)]), ({ repeated, frozen }) => repeated.join() === '10' && frozen.length === 0),
    frameCase('one frame repeated and encoded again', 'found', () => watched([...plain.slice(0, 11), 10, ...plain.slice(11)], recoded), ({ repeated }) => repeated.join() === '11'),
    frameCase('every fifth frame repeated', 'found', () => watched(plain.flatMap((i) => (i % 4 === 3 ? [i, i] : [i]))), ({ cadence }) => cadence?.every === 5),
    frameCase('black for ten frames', 'found', () => watched(plain, grade(5, 15, 0.02, 0)), ({ black, blank }) => black[0]?.start === 5 && black[0].end === 15 && blank.length === 0),
    frameCase('a cap on the lens for four frames', 'found', () => watched(plain, grade(5, 9, 0, 1)), ({ black, blank }) => blank[0]?.start === 5 && blank[0].end === 9 && black.length === 1),
    frameCase('one frame flashes by 1.1 stops', 'found', () => watched(plain, grade(7, 8, 2.15, 0)), ({ flashes }) => flashes.join() === '7'),
    frameCase('one frame brighter by half a stop', 'quiet', () => watched(plain, grade(7, 8, 1.41, 0)), ({ flashes }) => flashes.length > 0),
    frameCase('dark but there', 'quiet', () => watched(plain, grade(0, 24, 0.4, 0)), any),
  ];
}

/** The cases of clean plates, screens and the frames themselves. */
export function materialCases(): readonly PictureCase[] {
  return [...plates(), ...screens(), ...frames()];
}
