import { glMatrix, mat4, vec4 } from 'gl-matrix';
import { describe, expect, it } from 'vitest';
import type { Clip } from '../../../src/core/material/clip.ts';
import type { Finding } from '../../../src/core/material/finding.ts';
import type { Sync } from '../../../src/core/material/plate-set.ts';
import type { MoveMark } from '../../../src/core/material/shot-list.ts';
import type { RecordedMove } from '../../../src/core/material/tracked-move.ts';
import type { JudgedSet } from '../../../src/core/checks/judged.ts';
import { checkDay } from '../../../src/steps/check/check-day.ts';
import { ROLE_WORDS } from '../../support/make-clips.ts';
import { ASSUMED, SYNCED, checkRules, makeFullClip, makeMatchedDay, makeSet } from '../../support/make-matched.ts';
import type { MadePose } from '../../support/make-moves.ts';
import { dolly, makeMove } from '../../support/make-moves.ts';

glMatrix.setMatrixArrayType(Array);

const LEAD = makeFullClip(1, 'lead');
const SWAPPED = makeFullClip(2, 'swapped');
const CLEAN = makeFullClip(3, 'clean', { frames: 240 });
const HANDHELD = { name: 'handheld', movingCamera: true };
const MOCO = { name: 'moco', movingCamera: true, repeatedMove: true };

/** Ten seconds of dolly, each frame of the clips. */
function slowDolly(frame: number): MadePose {
  return dolly((frame * 47) / 239);
}

function moveOf(clip: Clip, pose: (frame: number) => MadePose, source = 'tracker'): RecordedMove {
  const move = makeMove({ file: clip.file.replace('.mov', '.jsonl'), at: '00:00:00:00', frames: 240, pose });
  const start = clip.start?.frame ?? 0;
  return { ...move, source, samples: move.samples.map((sample) => ({ ...sample, frame: sample.frame + start })) };
}

interface Wish {
  readonly moves?: readonly (readonly [Clip, RecordedMove])[];
  readonly marks?: readonly MoveMark[];
  readonly sync?: Sync;
  readonly clips?: readonly Clip[];
  readonly method?: object;
}

function judge({ moves = [], marks = [], sync = SYNCED, clips = [LEAD, SWAPPED, CLEAN], method = HANDHELD }: Wish): JudgedSet {
  const matched = makeSet({ clips, method, match: { swapped: { sync } } });
  const ties = moves.map(([clip, move]) => ({ move, clip: clip.id, evidence: `${move.file} carries its name` }));
  const { sets } = checkDay(makeMatchedDay([matched], { marks, moves: ties }), checkRules({ roleWords: ROLE_WORDS }));
  const [set] = sets;
  if (set === undefined) throw new Error('one set');
  return set;
}

function moveFindings(wish: Wish): readonly Finding[] {
  return judge(wish).findings.filter(({ code }) => code === 'move-differs');
}

function onlyFinding(wish: Wish): Finding {
  const [finding, ...more] = moveFindings(wish);
  if (finding === undefined || more.length > 0) throw new Error(`${more.length + (finding === undefined ? 0 : 1)} findings: ${JSON.stringify([finding, ...more].map((one) => one?.consequence))}`);
  return finding;
}

describe('tracked moves of two passes', () => {
  const lead = [LEAD, moveOf(LEAD, slowDolly)] as const;

  it('that are one give no finding', () => {
    expect(judge({ moves: [lead, [SWAPPED, moveOf(SWAPPED, slowDolly)]] }).findings).toEqual([]);
  });

  it('of which the second stood 5 mm higher stop the set, with the parallax no warp undoes', () => {
    const finding = onlyFinding({ method: MOCO, moves: [lead, [SWAPPED, moveOf(SWAPPED, (frame) => ({ ...slowDolly(frame), up: 1205 }))]] });
    // By the formula of docs/optics.md: F·t·(1/near − 1/far) with F = 35 · 4096 / 24.89, 5 mm, 3 m and 6 m.
    const parallax = ((35 * 4096) / 24.89) * 5 * (1 / 3000 - 1 / 6000);
    expect(finding).toMatchObject({ severity: 'stop', measured: { value: expect.closeTo(parallax, 1), unit: 'px' }, allowed: { value: 1, unit: 'px' }, subject: [LEAD.id, SWAPPED.id] });
    expect(finding.consequence).toContain('stood 5 mm higher');
    expect(finding.consequence).toContain('stays whatever the warp');
    expect(finding.consequence).toContain('Most of it comes from its height.');
    expect(finding.remedy).toContain('shoot the swapped pass A003C002 again');
  });

  it('are a warning for a hand that came near, and stop for one that stood farther off than the show allows', () => {
    const higher = (mm: number): Wish => ({ moves: [lead, [SWAPPED, moveOf(SWAPPED, (frame) => ({ ...slowDolly(frame), up: 1200 + mm }))]] });
    expect(onlyFinding(higher(15))).toMatchObject({ severity: 'warn', evidence: expect.arrayContaining([expect.stringContaining('no hand repeats a move to the pixel')]) });
    expect(onlyFinding(higher(31)).severity).toBe('stop');
    expect(onlyFinding({ ...higher(15), method: MOCO }).severity).toBe('stop');
  });

  it('tell the px that an independent projection gives', () => {
    const pose = (frame: number): MadePose => ({ ...slowDolly(frame), right: (slowDolly(frame).right ?? 0) + 4, ahead: 7, tiltDeg: 0.02 });
    const { along } = judge({ moves: [lead, [SWAPPED, moveOf(SWAPPED, pose)]] });
    const move = along?.[0]?.move;
    if (move?.kind !== 'tracked') throw new Error('a tracked move');
    const at = 120;
    const frame = move.comparison.frames.find((one) => one.frame === at);
    expect(frame?.nearPx).toBeCloseTo(worstByGlMatrix(slowDolly(at), pose(at), 3000), 3);
    expect(frame?.farPx).toBeCloseTo(worstByGlMatrix(slowDolly(at), pose(at), 6000), 3);
  });

  it('of which the second only panned wrong is a warning: a warp undoes it', () => {
    const finding = onlyFinding({ moves: [lead, [SWAPPED, moveOf(SWAPPED, (frame) => ({ ...slowDolly(frame), panDeg: (slowDolly(frame).panDeg ?? 0) + 0.1 }))]] });
    expect(finding).toMatchObject({ severity: 'warn', allowed: { value: 2, unit: 'px' } });
    expect(finding.remedy).toContain('tell the compositor that it needs a tracked warp');
  });

  it('are warned of, never more, when nobody measured the distances', () => {
    const { subjectDistanceM: _subject, backgroundDistanceM: _background, ...position } = LEAD.position;
    const { focusDistanceM: _focus, ...lens } = LEAD.lens;
    const far = { ...LEAD, position, lens };
    const finding = onlyFinding({ clips: [far, SWAPPED, CLEAN], moves: [[far, lead[1]], [SWAPPED, moveOf(SWAPPED, (frame) => ({ ...slowDolly(frame), up: 1250 }))]] });
    expect(finding.severity).toBe('warn');
    expect(finding.evidence.join('\n')).toContain('not on record: subject distance, background distance');
  });

  it('show the other sign when the passes are swapped', () => {
    const higher = (clip: Clip): RecordedMove => moveOf(clip, (frame) => ({ ...slowDolly(frame), up: 1205, right: (slowDolly(frame).right ?? 0) - 3 }));
    const one = onlyFinding({ moves: [lead, [SWAPPED, higher(SWAPPED)]] });
    const other = onlyFinding({ moves: [[LEAD, higher(LEAD)], [SWAPPED, moveOf(SWAPPED, slowDolly)]] });
    expect(one.consequence).toMatch(/stood 3(?:\.\d)? mm to the left and 5 mm higher|mm to the left.*5 mm higher/u);
    expect(other.consequence).toMatch(/mm to the right.*5 mm lower/u);
    expect(other.measured?.value).toBeCloseTo(Number(one.measured?.value), 1);
  });

  it('that run three frames late say so, and are judged without the delay where the sync is a guess', () => {
    const late = [SWAPPED, moveOf(SWAPPED, (frame) => dolly(((frame - 3) * 47) / 239))] as const;
    expect(onlyFinding({ moves: [lead, late] }).consequence).toMatch(/It does the same 3 frames later \(± [\d.]+\)/u);
    expect(moveFindings({ moves: [lead, late], sync: ASSUMED })).toEqual([]);
  });

  it('follow the sync: a pass that starts earlier is laid where it belongs', () => {
    const earlier = [SWAPPED, moveOf(SWAPPED, (frame) => dolly(((frame - 12) * 47) / 239))] as const;
    expect(moveFindings({ moves: [lead, earlier], sync: { ...SYNCED, offset: 12 } })).toEqual([]);
  });

  it('that cannot be compared are a warning with the reason', () => {
    const untimed = { ...moveOf(SWAPPED, slowDolly), counted: 'order' as const };
    const finding = onlyFinding({ moves: [lead, [SWAPPED, untimed]] });
    expect(finding).toMatchObject({ severity: 'warn' });
    expect(finding.consequence).toContain('its samples carry no timecode');
  });

  it('never say NaN, Infinity or −0, whatever the samples hold', () => {
    const wild = moveOf(SWAPPED, (frame) => ({ right: frame % 2 === 0 ? Number.NaN : 1e12 }));
    expect(JSON.stringify(judge({ moves: [lead, [SWAPPED, wild]] }).findings)).not.toMatch(/NaN|Infinity|null|-0[^.\d]/u);
  });
});

describe('marks of two passes', () => {
  const mark = (pass: string, take: number, name: string, tc: string | undefined, over: Partial<MoveMark> = {}): MoveMark => ({
    slate: '27B', take, pass, mark: name, ...(tc === undefined ? {} : { tc }), x: 0, y: 0, z: 1.2, pan: 0, tilt: 0, roll: 0, from: `moves.csv line ${pass === 'Lead' ? 2 : 6}${name}`, ...over,
  });
  const at = (clip: Clip, frames: number): string => {
    const total = (clip.start?.frame ?? 0) + frames;
    return [Math.floor(total / 86_400), Math.floor(total / 1440) % 60, Math.floor(total / 24) % 60, total % 24].map((part) => String(part).padStart(2, '0')).join(':');
  };
  const LEAD_MARKS = [mark('Lead', 1, 'start', at(LEAD, 10)), mark('Lead', 1, 'door', at(LEAD, 100), { x: 0.2 }), mark('Lead', 1, 'end', at(LEAD, 200), { x: 0.4 })];
  const swappedMarks = (over: Partial<MoveMark> = {}): readonly MoveMark[] => [
    mark('Swapped', 2, 'start', at(SWAPPED, 10)), mark('Swapped', 2, 'door', at(SWAPPED, 100), { x: 0.2, ...over }), mark('Swapped', 2, 'end', at(SWAPPED, 200), { x: 0.4 }),
  ];
  const CLEAN_MARKS = [mark('Clean plate', 3, 'start', at(CLEAN, 10)), mark('Clean plate', 3, 'door', at(CLEAN, 100), { x: 0.2 }), mark('Clean plate', 3, 'end', at(CLEAN, 200), { x: 0.4 })];
  const all = (marks: readonly MoveMark[]): readonly MoveMark[] => [...LEAD_MARKS, ...marks, ...CLEAN_MARKS];

  it('that agree give no finding', () => {
    expect(judge({ marks: all(swappedMarks()) }).findings).toEqual([]);
  });

  it('of which one stood 20 mm higher stop the set of a rig: "the camera stood 2 cm higher", in px', () => {
    const finding = onlyFinding({ method: MOCO, marks: all(swappedMarks({ z: 1.22 })) });
    const parallax = ((35 * 4096) / 24.89) * 20 * (1 / 3000 - 1 / 6000);
    expect(finding).toMatchObject({ severity: 'stop', measured: { value: expect.closeTo(parallax, 1), unit: 'px' } });
    expect(finding.consequence).toContain('at mark "door" the camera stood 20 mm higher');
    expect(finding.evidence).toContainEqual(expect.stringMatching(/^mark "door": camera stood 20 mm higher: near 38\.4 px, far 19\.2 px, parallax 19\.2 px$/u));
  });

  it('of which one is reached six frames late is a warning in frames, with the speed of the legs', () => {
    const finding = onlyFinding({ marks: all(swappedMarks({ tc: at(SWAPPED, 106) })) });
    expect(finding).toMatchObject({ severity: 'warn', measured: { value: 6, unit: 'frames' }, allowed: { value: 2, unit: 'frames' } });
    expect(finding.consequence).toContain('0.25 s late');
    expect(finding.consequence).toMatch(/From "start" to "door" it takes 4 s where the lead takes 3\.75 s \(6\.7 % longer\)/u);
  });

  it('follow the sync, and without one count from the first mark', () => {
    const shifted = [mark('Swapped', 2, 'start', at(SWAPPED, 22)), mark('Swapped', 2, 'door', at(SWAPPED, 112), { x: 0.2 }), mark('Swapped', 2, 'end', at(SWAPPED, 212), { x: 0.4 })];
    expect(moveFindings({ marks: all(shifted), sync: { ...SYNCED, offset: 12 } })).toEqual([]);
    expect(moveFindings({ marks: all(shifted), sync: ASSUMED })).toEqual([]);
    expect(moveFindings({ marks: all(shifted) }).map(({ measured }) => measured)).toEqual([{ value: 12, unit: 'frames' }]);
  });

  it.each<[string, readonly MoveMark[], severity: string, clip: Clip, says: string, place: string]>([
    ['missing', swappedMarks().slice(0, 2), 'warn', SWAPPED, '"end" is not on record', 'mark "end": moves.csv line 2end'],
    ['noted twice', [...swappedMarks(), mark('Swapped', 2, 'END', at(SWAPPED, 200), { x: 0.4 })], 'note', SWAPPED, '"END" is noted twice', 'mark "END": moves.csv line 6END'],
    ['without a time', [swappedMarks()[0], mark('Swapped', 2, 'door', undefined, { x: 0.2 }), swappedMarks()[2]].flatMap((one) => one ?? []), 'note', SWAPPED, '"door" has no time that lies in the clip', 'mark "door": moves.csv line 6door'],
  ])('of which one is %s are a finding with the place', (_name, marks, severity, clip, says, place) => {
    const finding = onlyFinding({ marks: all(marks) });
    expect(finding).toMatchObject({ severity, subject: [clip.id] });
    expect(finding.consequence).toContain(says);
    expect(finding.evidence).toContain(place);
  });

  it('noted out of order are a finding with the place', () => {
    const [start, door, end] = swappedMarks();
    const marks = [start, end, door].flatMap((one) => one ?? []);
    expect(onlyFinding({ marks: all(marks) })).toMatchObject({ severity: 'warn', evidence: ['mark "door": moves.csv line 6door'] });
  });

  it('with a number no camera can have leave it out and say so', () => {
    const finding = onlyFinding({ marks: all(swappedMarks({ tilt: 409.5 })) });
    expect(finding).toMatchObject({ severity: 'warn', measured: { value: expect.stringContaining('tilt at mark door') } });
  });

  it('on one side and a tracker on the other cannot be compared, and it says so', () => {
    const { findings } = judge({ clips: [LEAD, SWAPPED, CLEAN], marks: [...swappedMarks()], moves: [[LEAD, moveOf(LEAD, slowDolly)]] });
    expect(findings.filter(({ code }) => code === 'move-differs')).toMatchObject([{ severity: 'warn', consequence: expect.stringContaining('as tracked samples, that of A003C002 as marks') }]);
  });

  it('nowhere keep the finding of old, and a locked-off set has none', () => {
    expect(onlyFinding({})).toMatchObject({ severity: 'warn', measured: { value: '0 of 2 passes' } });
    expect(moveFindings({ method: { name: 'split', movingCamera: false }, marks: all(swappedMarks({ z: 2 })) })).toEqual([]);
  });
});

describe('lens values that change along a take', () => {
  const track = (focalLength: readonly number[], stop: readonly number[]): Clip['tracks'] => [{ source: { kind: 'sidecar', file: 'x.csv', place: '' }, frames: 240, values: { focalLength, stop }, stopKind: 'T' }];
  const zoom = (over: (frame: number) => number = () => 0): readonly number[] => Array.from({ length: 240 }, (_, frame) => 35 + frame / 24 + over(frame));
  const still = Array.from({ length: 240 }, () => 2.8);

  it('are followed at synchronised frames, with the worst frame in px', () => {
    const lead = { ...LEAD, tracks: track(zoom(), still) };
    const pass = { ...SWAPPED, tracks: track(zoom((frame) => (frame === 100 ? 0.5 : 0)), still) };
    const { along } = judge({ clips: [lead, pass, CLEAN] });
    const [curve, ...more] = along?.[0]?.curves ?? [];
    expect(more).toEqual([]);
    expect(curve?.curve).toMatchObject({ of: 'focalLength', unit: 'px', worst: { frame: 100 } });
    // r · Δf / f at the corner (docs/optics.md), which a longer lens pushes out.
    expect(curve?.curve.worst?.amount).toBeCloseTo((Math.hypot(2048, 1080) * 0.5) / (35 + 100 / 24), 6);
    expect(curve?.limit).toBe(2);
  });

  it('are laid by the sync: the same pull a second later is no difference', () => {
    const shifted = Array.from({ length: 240 }, (_, frame) => 35 + (frame - 24) / 24);
    const clips = [{ ...LEAD, tracks: track(zoom(), still) }, { ...SWAPPED, tracks: track(shifted, still) }, CLEAN];
    expect(judge({ clips, sync: { ...SYNCED, offset: 24 } }).along?.[0]?.curves[0]?.curve.worst?.amount).toBe(0);
    expect(judge({ clips, sync: ASSUMED }).along).toBeUndefined();
  });

  it('that stand still all along are not worth a plot', () => {
    const steady = Array.from({ length: 240 }, () => 35);
    expect(judge({ clips: [{ ...LEAD, tracks: track(steady, still) }, { ...SWAPPED, tracks: track(steady, still) }, CLEAN] }).along).toBeUndefined();
  });
});

/** The largest shift of nine points of the lead's picture on a plane so far away, by gl-matrix: y up and looking along −z there. */
function worstByGlMatrix(lead: MadePose, pass: MadePose, depth: number): number {
  const focal = (35 * 4096) / 24.89;
  const world = ({ right = 0, up = 0, ahead = 0, panDeg = 0, tiltDeg = 0 }: MadePose): mat4 => {
    const m = mat4.create();
    mat4.translate(m, m, [right, up, -ahead]);
    mat4.rotateY(m, m, (-panDeg * Math.PI) / 180);
    return mat4.rotateX(m, m, (tiltDeg * Math.PI) / 180);
  };
  const toPass = mat4.invert(mat4.create(), world(pass));
  if (toPass === null) throw new Error('a pose');
  const shifts = [-2048, 0, 2048].flatMap((x) => [-1080, 0, 1080].map((y) => {
    const point = vec4.fromValues((x / focal) * depth, (-y / focal) * depth, -depth, 1);
    vec4.transformMat4(point, point, world(lead));
    vec4.transformMat4(point, point, toPass);
    return Math.hypot((focal * point[0]) / -point[2] - x, (-focal * point[1]) / -point[2] - y);
  }));
  return Math.max(...shifts);
}

