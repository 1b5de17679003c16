import { matchExposure } from '../../src/core/picture/exposure/match-exposure.ts';
import type { LumaFrame } from '../../src/core/picture/frame.ts';
import { followCamera } from '../../src/core/picture/motion/follow-camera.ts';
import { compareGrain, temporalNoise } from '../../src/core/picture/noise/noise.ts';
import type { Registration } from '../../src/core/picture/registration/register.ts';
import { register } from '../../src/core/picture/registration/register.ts';
import type { PictureAnswer, PictureCase } from './picture-case.ts';
import { randomFrom } from './random.ts';
import type { Placement, SceneOptions, ScenePass } from './scene.ts';
import { makeScene, softShadow } from './scene.ts';
import type { Figure } from './scene-figure.ts';

const NONE: ScenePass = { frames: 0 };
const BACKDROPS = ['room', 'bare-room', 'home', 'alpine'] as const;

/** Two performers of a height, who trade places when `traded`. */
export function pair(height: number, traded = false): readonly Figure[] {
  if (height === 0) return [];
  const [first, second] = traded ? [250, 75] : [75, 250];
  return [{ x: first, height, tone: 40 }, { x: second, height: 0.95 * height, tone: 190, stride: 30 }];
}

function single(options: SceneOptions): { readonly lead: LumaFrame; readonly swapped: LumaFrame } {
  const { lead, swapped } = makeScene({ ...options, frames: 1, clean: NONE });
  const [first, second] = [lead[0], swapped[0]];
  if (first === undefined || second === undefined) throw new Error('a scene without frames');
  return { lead: first, swapped: second };
}

/** Whether `part` of the answer is right: px at the middle, % of scale, degrees. */
function registrationOf(answer: Registration, truth: Placement, part: 'shift' | 'scale' | 'turn'): PictureAnswer {
  if (answer.kind === 'cannot-tell') return { kind: 'cannot tell', words: answer.why };
  const errors = {
    shift: Math.hypot(answer.dx - (truth.dx ?? 0), answer.dy - (truth.dy ?? 0)),
    scale: 100 * Math.abs(answer.scale - (truth.scale ?? 1)),
    turn: Math.abs(answer.rotationDeg - (truth.rotationDeg ?? 0)),
  };
  return { kind: 'measured', error: errors[part], words: `psr ${answer.psr.toFixed(1)}, q ${answer.q.toFixed(2)}` };
}

function registrationCase(name: string, options: SceneOptions, camera: Placement): readonly PictureCase[] {
  let answer: Registration | undefined;
  const registered = (): Registration => {
    const { lead, swapped } = single({ ...options, swapped: { ...options.swapped, camera } });
    return register(lead, swapped, options.noise === undefined ? {} : { noise: options.noise });
  };
  const limits = [['shift', 0.03, 'px'], ['scale', 0.05, '%'], ['turn', 0.03, '°']] as const;
  return limits.map(([part, limit, unit]) => ({ subject: `registration: ${part}`, name, truth: 'measured', limit, unit, run: () => registrationOf((answer ??= registered()), camera, part) }));
}

function unrelated(name: string, first: SceneOptions, second: SceneOptions): PictureCase {
  const run = (): PictureAnswer => {
    const answer = register(single(first).lead, single(second).lead);
    return answer.kind === 'measured' ? { kind: 'measured', words: `psr ${answer.psr}, q ${answer.q}` } : { kind: 'cannot tell', words: answer.why };
  };
  return { subject: 'registration: other pictures', name, truth: 'cannot tell', run };
}

function registrations(): readonly PictureCase[] {
  const random = randomFrom(77);
  const shift = (): Placement => ({ dx: 6 * random() - 3, dy: 6 * random() - 3 });
  const plain = BACKDROPS.flatMap((backdrop) =>
    [0, 105, 165].flatMap((height) => registrationCase(`${backdrop}, figures of ${height} px`, { backdrop, seed: 11, lead: { figures: pair(height) }, swapped: { figures: pair(height, true) } }, shift())));
  const scaled = BACKDROPS.flatMap((backdrop) =>
    ([[1.01, 0.4], [0.97, -1], [1.05, 2]] as const).flatMap(([scale, rotationDeg]) =>
      registrationCase(`${backdrop}, scale ${scale}, turned ${rotationDeg}°`, { backdrop, seed: 12, lead: { figures: pair(105) }, swapped: { figures: pair(105, true) } }, { ...shift(), scale, rotationDeg })));
  const harder = [
    ...registrationCase('bare wall, 8 % and 3°', { backdrop: 'bare-room', seed: 13 }, { ...shift(), scale: 1.08, rotationDeg: 3 }),
    ...registrationCase('brighter by a tenth and 6 codes', { seed: 14, lead: { figures: pair(105) }, swapped: { figures: pair(105, true), gain: 1.1, offset: 6 } }, shift()),
    ...registrationCase('shadows of 15 %', { seed: 15, lead: { figures: pair(105) }, swapped: { figures: pair(105, true), light: softShadow({ x: 200, y: 120, radiusX: 60, radiusY: 30, strength: 0.15 }) } }, shift()),
    ...registrationCase('noise of 3 codes', { seed: 16, noise: 3, lead: { figures: pair(105) }, swapped: { figures: pair(105, true) } }, shift()),
    ...registrationCase('nothing moved, figures of 165 px did', { seed: 17, lead: { figures: pair(165) }, swapped: { figures: pair(165, true) } }, {}),
  ];
  const others = [
    ...BACKDROPS.flatMap((first, i) => BACKDROPS.slice(i + 1).map((second) => unrelated(`${first} and ${second}`, { backdrop: first }, { backdrop: second }))).filter(({ name }) => name !== 'room and bare-room'),
    unrelated('two rooms with other doors', { seed: 21 }, { seed: 22, doorShift: -60 }),
    unrelated('grain alone', { seed: 23, lead: { gain: 0, offset: 30 } }, { seed: 24, lead: { gain: 0, offset: 30 } }),
    unrelated('nothing at all', { noise: 0, lead: { gain: 0 } }, { noise: 0, lead: { gain: 0 } }),
  ];
  return [...plain, ...scaled, ...harder, ...others];
}

function exposureCase(name: string, options: SceneOptions, gain: number): PictureCase {
  const run = (): PictureAnswer => {
    const { lead, swapped } = single({ ...options, swapped: { ...options.swapped, gain } });
    const answer = matchExposure(lead, swapped, { kind: 'linear' });
    if (answer.kind === 'cannot-tell') return { kind: 'cannot tell', words: answer.why };
    return { kind: 'measured', error: Math.abs(answer.stops - Math.log2(gain)), words: `${answer.stops.toFixed(4)} stops` };
  };
  return { subject: 'exposure', name, truth: 'measured', limit: 0.02, unit: 'stop', run };
}

function exposures(): readonly PictureCase[] {
  const gains = [0.93, 1.05, 1.12, 1.3].flatMap((gain) => (['room', 'alpine'] as const).map((backdrop) => exposureCase(`${backdrop}, gain ${gain}`, { backdrop, seed: 31, lead: { figures: pair(105) }, swapped: { figures: pair(105, true), offset: 0 } }, gain)));
  const shadow = softShadow({ x: 230, y: 120, radiusX: 60, radiusY: 40, strength: 0.15 });
  return [
    ...gains,
    exposureCase('figures of 165 px', { seed: 32, lead: { figures: pair(165) }, swapped: { figures: pair(165, true), offset: 4 } }, 1.1),
    exposureCase('shadows of 15 %', { seed: 33, lead: { figures: pair(105) }, swapped: { figures: pair(105, true), light: shadow } }, 1.08),
    exposureCase('noise of 4 codes', { seed: 34, noise: 4, lead: { figures: pair(105) }, swapped: { figures: pair(105, true) } }, 1.1),
    exposureCase('half a pixel off', { seed: 35, lead: { figures: pair(105) }, swapped: { figures: pair(105, true), camera: { dx: 0.5 } } }, 0.95),
    { subject: 'exposure', name: 'other pictures', truth: 'cannot tell', run: () => {
      const answer = matchExposure(single({ backdrop: 'alpine' }).lead, single({ backdrop: 'home' }).lead, { kind: 'linear' });
      return { kind: answer.kind === 'measured' ? 'measured' : 'cannot tell', words: JSON.stringify(answer) };
    } },
  ];
}

function noises(): readonly PictureCase[] {
  const floor = (noise: number, seed: number): ReturnType<typeof temporalNoise> => temporalNoise(makeScene({ noise, seed, frames: 6, lead: { figures: pair(105) }, swapped: NONE, clean: NONE }).lead);
  const measured = [0.125, 0.5, 1, 2].map((noise): PictureCase => ({
    subject: 'noise', name: `spread of ${noise} codes`, truth: 'measured', limit: 15, unit: '%',
    run: () => {
      const found = floor(noise, 41);
      return found === undefined ? { kind: 'cannot tell', words: 'no floor' } : { kind: 'measured', error: 100 * Math.abs(found.sigma / noise - 1), words: `${found.sigma}` };
    },
  }));
  const compared = ([[1, 1.1, 'quiet'], [1, 1.6, 'found'], [2, 1.3, 'found'], [0.5, 0.52, 'quiet']] as const).map(([a, b, truth]): PictureCase => ({
    subject: 'grain', name: `${a} against ${b} codes`, truth,
    run: () => {
      const [first, second] = [floor(a, 42), floor(b, 43)];
      const grain = first === undefined || second === undefined ? undefined : compareGrain(first, second);
      return { kind: grain === undefined ? 'cannot tell' : grain.differs ? 'found' : 'quiet', words: `${grain?.ratio}` };
    },
  }));
  return [...measured, ...compared];
}

type MotionTruth = 'locked' | 'vibrating' | 'pan' | 'tilt' | 'zoom' | 'roll' | 'locked with a bump';

function motionCase(name: string, truth: MotionTruth, camera: (frame: number) => Placement, scene: SceneOptions = {}): PictureCase {
  const run = (): PictureAnswer => {
    const { lead } = makeScene({ seed: 51, frames: 24, ...scene, lead: { camera, ...scene.lead }, swapped: NONE, clean: NONE });
    const follower = followCamera(scene.noise === undefined ? {} : { noise: scene.noise });
    for (const frame of lead) follower.push(frame);
    const motion = follower.finish();
    if (motion.kind === 'cannot-tell') return { kind: 'cannot tell', words: motion.why };
    const kind = motion.kind === 'moving' ? (motion.move ?? 'pan') : motion.kind === 'locked' && motion.bumps.length > 0 ? 'locked with a bump' : motion.kind;
    const words = `${kind}, step ${motion.stepPx.toFixed(3)}, from first ${motion.fromFirstPx.toFixed(3)} px`;
    if (truth === 'locked') return { kind: kind === 'locked' ? 'quiet' : 'found', words };
    return { kind: kind === truth ? 'found' : 'quiet', words };
  };
  return { subject: 'camera motion', name, truth: truth === 'locked' ? 'quiet' : 'found', run };
}

function motions(): readonly PictureCase[] {
  const still = (): Placement => ({});
  const shake = randomFrom(52);
  const tremble = Array.from({ length: 24 }, () => ({ dx: 0.16 * (shake() - 0.5), dy: 0.16 * (shake() - 0.5) }));
  const handheld = Array.from({ length: 24 }, (_, i) => ({ dx: 4 * Math.sin(i / 5) + shake(), dy: 2 * Math.cos(i / 7) + 0.3 * shake() }));
  return [
    ...BACKDROPS.map((backdrop) => motionCase(`locked, ${backdrop}`, 'locked', still, { backdrop })),
    motionCase('locked, performers walk', 'locked', still, { lead: { figures: [{ x: (t) => 60 + 4 * t, height: 120 }, { x: 250, height: 115, tone: 190 }] } }),
    motionCase('locked, noise of 3 codes', 'locked', still, { noise: 3 }),
    motionCase('locked, lamps flicker by 2 %', 'locked', still, { lead: { gain: (t) => 1 + 0.02 * Math.sin(t) } }),
    motionCase('floor trembles by .08 px', 'vibrating', (t) => tremble[t] ?? {}),
    motionCase('one bump of .5 px', 'locked with a bump', (t) => (t === 12 ? { dx: 0.5 } : {})),
    motionCase('creeps .02 px a frame', 'pan', (t) => ({ dx: 0.02 * t })),
    motionCase('pans .5 px a frame', 'pan', (t) => ({ dx: 0.5 * t })),
    motionCase('tilts .4 px a frame, performers walk', 'tilt', (t) => ({ dy: -0.4 * t }), { lead: { figures: pair(105) } }),
    motionCase('zooms .1 % a frame', 'zoom', (t) => ({ scale: 1 + 0.001 * t })),
    motionCase('rolls .05° a frame', 'roll', (t) => ({ rotationDeg: 0.05 * t })),
    motionCase('handheld', 'pan', (t) => handheld[t] ?? {}, { backdrop: 'home' }),
    { subject: 'camera motion', name: 'no frame shows the place of the one before', truth: 'cannot tell', run: () => {
      const follower = followCamera();
      for (let i = 0; i < 6; i++) follower.push(single({ backdrop: BACKDROPS[i % 4] ?? 'room', seed: i }).lead);
      const motion = follower.finish();
      return { kind: motion.kind === 'cannot-tell' ? 'cannot tell' : 'found', words: motion.kind };
    } },
  ];
}

/** The cases of registration, exposure, noise and camera motion. */
export function measuringCases(): readonly PictureCase[] {
  return [...registrations(), ...exposures(), ...noises(), ...motions()];
}
