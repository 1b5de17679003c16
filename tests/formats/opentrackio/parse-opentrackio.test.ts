import { glMatrix, mat4, vec4 } from 'gl-matrix';
import { describe, expect, it } from 'vitest';
import { compareMoves } from '../../../src/core/optics/moves/compare-moves.ts';
import { matrixOf } from '../../../src/core/optics/moves/quaternion.ts';
import { aimOf } from '../../../src/core/optics/projection.ts';
import { parseOpenTrackIo } from '../../../src/formats/opentrackio/parse-opentrackio.ts';
import type { TrackedMove } from '../../../src/core/material/tracked-move.ts';
import { ONCE, labelOf, madeSample, transform } from './made-samples.ts';

glMatrix.setMatrixArrayType(Array);

function read(text: string): ReturnType<typeof parseOpenTrackIo> {
  return parseOpenTrackIo([{ file: 'tracking/27B-3.json', text }]);
}

function readAll(samples: readonly unknown[]): ReturnType<typeof parseOpenTrackIo> {
  return read(JSON.stringify(samples));
}

function onlyMove({ moves }: ReturnType<typeof parseOpenTrackIo>): TrackedMove {
  const [move] = moves;
  if (move === undefined || moves.length !== 1) throw new Error(`${moves.length} moves`);
  return move;
}

const TEN = Array.from({ length: 10 }, (_, frame) => madeSample(frame));
const START = 10 * 3600 * 24;

describe('a recording of OpenTrackIO samples', () => {
  it('reads the same as a list, as one sample a line, and as one sample a file', () => {
    const asList = readAll(TEN);
    expect(asList.problems).toEqual([]);
    expect(read(TEN.map((sample) => JSON.stringify(sample)).join('\r\n'))).toEqual(asList);
    expect(parseOpenTrackIo(TEN.map((sample, index) => ({ file: `${index}.json`, text: JSON.stringify(sample, undefined, 2) })))).toEqual(asList);
    expect(onlyMove(asList)).toMatchObject({ counted: 'timecode', rate: { num: 24, den: 1 }, format: { base: 24, drop: false }, slate: '27B-3', holes: [], samples: { length: 10 } });
  });

  it('gives each frame its place, its turn and its lens', () => {
    const sample = onlyMove(readAll(TEN)).samples[3];
    if (sample === undefined) throw new Error('there are ten');
    // Right, down, ahead: the dolly went 30 mm ahead, the head stands 1.42 m up.
    expect(sample).toMatchObject({ frame: START + 3, xMm: 0, yMm: expect.closeTo(-1420, 9), zMm: expect.closeTo(30, 9), focalLengthMm: 35.2, focusM: 2.4, fStop: 2.6, tStop: 2.8, entrancePupilMm: 90 });
    expect(aimOf(matrixOf(sample))).toEqual({ panDeg: expect.closeTo(0, 9), tiltDeg: expect.closeTo(-2, 9), rollDeg: expect.closeTo(0, 9) });
  });

  it('composes a chain of transforms as gl-matrix does: pan about z, tilt about x, roll about y, right-handed', () => {
    const chain = [
      { translation: { x: 1, y: 2, z: 3 }, rotation: { pan: 40, tilt: 10, roll: -5 } },
      { translation: { x: -0.5, y: 4, z: 0.2 }, rotation: { pan: -15, tilt: 25, roll: 0 } },
      { translation: { x: 0.1, y: 0.3, z: 0.05 }, rotation: { pan: 380, tilt: -3, roll: 8 } },
    ];
    const radians = (degrees: number): number => (degrees * Math.PI) / 180;
    const whole = mat4.create();
    for (const { translation, rotation } of chain) {
      mat4.translate(whole, whole, [translation.x, translation.y, translation.z]);
      mat4.rotateZ(whole, whole, radians(rotation.pan));
      mat4.rotateX(whole, whole, radians(rotation.tilt));
      mat4.rotateY(whole, whole, radians(rotation.roll));
    }
    const seen = (x: number, y: number, z: number, w: number): readonly number[] => [...vec4.transformMat4(vec4.create(), [x, y, z, w], whole)];
    const [sample] = onlyMove(readAll([madeSample(0, { transforms: chain })])).samples;
    if (sample === undefined) throw new Error('there is one');
    const [x = 0, y = 0, z = 0] = seen(0, 0, 0, 1);
    expect(sample).toMatchObject({ xMm: expect.closeTo(1000 * x, 6), yMm: expect.closeTo(-1000 * z, 6), zMm: expect.closeTo(1000 * y, 6) });
    // The view (y of the camera) and its right (x of the camera), in the picture's axes.
    const m = matrixOf(sample);
    const [viewX = 0, viewY = 0, viewZ = 0] = seen(0, 1, 0, 0);
    [m[2], m[5], m[8]].forEach((value, index) => expect(value).toBeCloseTo([viewX, -viewZ, viewY][index] ?? Number.NaN, 9));
    const [rightX = 0, rightY = 0, rightZ = 0] = seen(1, 0, 0, 0);
    [m[0], m[3], m[6]].forEach((value, index) => expect(value).toBeCloseTo([rightX, -rightZ, rightY][index] ?? Number.NaN, 9));
  });

  it('keeps what is said once of camera and lens, whichever sample says it', () => {
    const move = onlyMove(readAll([TEN[0], { ...TEN[1], static: ONCE }, TEN[2]]));
    expect(move.camera).toEqual({
      label: 'A', model: 'Tern 6', serial: 'T6-0042', sensor: { widthMm: 24.89, heightMm: 13.13 }, squeeze: 1, shutterDeg: 180, sensorRate: { num: 24, den: 1 }, ei: 800,
      lensModel: 'Plover 35', lensSerial: 'P35-7', nominalFocalLengthMm: 35,
    });
  });

  it('takes a sensor a metre wide for micrometres, as older versions wrote it', () => {
    const camera = { ...ONCE.camera, activeSensorPhysicalDimensions: { width: 24890, height: 13130 } };
    const { moves, problems } = readAll([madeSample(0, { static: { camera } })]);
    expect(moves[0]?.camera.sensor).toEqual({ widthMm: 24.89, heightMm: 13.13 });
    expect(problems).toMatchObject([{ severity: 'note', place: 'sample 1', found: 'a sensor 24890 wide' }]);
  });

  it('keeps sources apart', () => {
    const other = TEN.map((sample) => ({ ...sample, sourceNumber: 2 }));
    expect(readAll([...other, ...TEN]).moves.map(({ source, samples }) => [source, samples.length])).toEqual([
      ['urn:uuid:7a1b9c52-3d4e-4f60-8a71-92b3c4d5e6f7, stream 1', 10],
      ['urn:uuid:7a1b9c52-3d4e-4f60-8a71-92b3c4d5e6f7, stream 2', 10],
    ]);
  });

  it('is compared with another through the whole chain and the entrance pupil', () => {
    const swung = TEN.map((_, frame) => madeSample(frame, { transforms: [transform('Dolly', { x: 0, y: 0.01 * frame, z: 0 }), transform('Head', { x: 0.01, y: 0, z: 1.42 }, { pan: 0, tilt: -2, roll: 0 })] }));
    const plate = { widthPx: 4096, heightPx: 2160, sensor: { widthMm: 24.89, heightMm: (24.89 * 2160) / 4096 }, squeeze: 1 };
    const comparison = compareMoves(onlyMove(readAll(TEN)), onlyMove(readAll(swung)), { plate, planes: { nearM: 2, farM: 6, assumptions: [] }, offset: 0 });
    expect(comparison).toMatchObject({ kind: 'moves', worst: { sideMm: expect.closeTo(10, 6) }, synced: { parallax: { worstPx: expect.closeTo((35.2 * 4096 * 10 * (1 / 2000 - 1 / 6000)) / 24.89, 4) } }, assumptions: [] });
  });
});

describe('the frames of a recording', () => {
  const at = (frame: number, timing: Readonly<Record<string, unknown>>): Record<string, unknown> => madeSample(frame, { timing: { mode: 'external', ...timing } });

  it('are sorted, and of two samples for one frame the later counts', () => {
    const { moves, problems } = readAll([TEN[4], TEN[2], TEN[3], { ...TEN[3], timing: { ...(TEN[3]?.['timing'] as object), sequenceNumber: 99 }, lens: { pinholeFocalLength: 40 } }]);
    expect(moves[0]?.samples.map(({ frame, focalLengthMm }) => [frame - START, focalLengthMm])).toEqual([[2, 35.2], [3, 40], [4, 35.2]]);
    expect(problems).toMatchObject([{ place: 'sample 4', found: 'a second sample for one frame' }]);
  });

  it('are two for each label when the tracker runs at twice the rate of its labels', () => {
    const samples = Array.from({ length: 8 }, (_, index) => at(index, { sampleRate: { num: 48, denom: 1 }, sequenceNumber: index, timecode: labelOf(Math.floor(index / 2)) }));
    const { moves, problems } = readAll(samples.toReversed());
    expect(problems).toEqual([]);
    expect(moves[0]).toMatchObject({ rate: { num: 48, den: 1 }, format: { base: 48, drop: false } });
    expect(moves[0]?.samples.map(({ frame, zMm }) => [frame - 2 * START, Math.round(zMm)])).toEqual([0, 1, 2, 3, 4, 5, 6, 7].map((index) => [index, 10 * index]));
  });

  it('are told by the sub-frame when one of a pair is missing', () => {
    const samples = [[0, 0], [0, 1], [1, 1]].map(([label = 0, subFrame]) => at(label, { sampleRate: { num: 48, denom: 1 }, timecode: { ...labelOf(label), subFrame } }));
    expect(readAll(samples).moves[0]?.samples.map(({ frame }) => frame - 2 * START)).toEqual([0, 1, 3]);
  });

  it('have holes where samples are missing', () => {
    const { moves, problems } = readAll(TEN.filter((_, index) => index !== 2 && (index < 5 || index > 7)));
    expect(moves[0]?.holes).toEqual([{ start: START + 2, end: START + 3 }, { start: START + 5, end: START + 8 }]);
    expect(problems).toMatchObject([{ found: 'no samples for 4 frames of the move, the first 10:00:00:02' }]);
  });

  it('go on counting through midnight', () => {
    const label = (frames: number, hours: number, minutes: number) => ({ hours, minutes, seconds: minutes, frames, frameRate: { num: 24, denom: 1 } });
    const { moves } = readAll([at(0, { timecode: label(23, 23, 59) }), at(1, { timecode: label(0, 0, 0) })]);
    expect(moves[0]?.samples.map(({ frame }) => frame)).toEqual([86_400 * 24 - 1, 86_400 * 24]);
  });

  it('are counted by sequence, else by order, when there is no timecode, and the report says so', () => {
    const bySequence = readAll([12, 10, 11].map((sequenceNumber) => at(0, { sampleRate: { num: 25, denom: 1 }, sequenceNumber })));
    expect(bySequence.moves[0]).toMatchObject({ counted: 'sequence', rate: { num: 25, den: 1 }, samples: [{ frame: 10 }, { frame: 11 }, { frame: 12 }] });
    expect(bySequence.problems).toMatchObject([{ severity: 'note', found: expect.stringContaining('sequence numbers') }]);
    expect(readAll([at(0, { sampleRate: { num: 25, denom: 1 } }), at(1, {})]).moves[0]).toMatchObject({ counted: 'order', samples: [{ frame: 0 }, { frame: 1 }] });
    const unknown = readAll([at(0, {})]);
    expect(unknown).toMatchObject({ moves: [], problems: [{ found: 'samples without timecode and without a sample rate' }] });
  });

  it('refuse labels that do not exist: frame 24 of 24, and those drop frame leaves out', () => {
    const dropped = { hours: 0, minutes: 1, seconds: 0, frames: 0, frameRate: { num: 30_000, denom: 1001 }, dropFrame: true };
    const { moves, problems } = readAll([at(0, { timecode: { ...labelOf(0), frames: 24 } }), at(1, { timecode: dropped }), at(2, { timecode: { ...labelOf(2), dropFrame: true } }), TEN[3]]);
    expect(moves[0]?.samples).toHaveLength(1);
    expect(problems.map(({ place, found }) => [place, found])).toEqual([
      ['sample 1', 'the label 10:00:00:24 at 24/1'], ['sample 2', 'the label 00:01:00;00 at 30000/1001'], ['sample 3', 'drop frame at 24/1'],
    ]);
  });
});

describe('what cannot be used is told with its place, and the rest still counts', () => {
  it.each<[string, Record<string, unknown>, string]>([
    ['a transform without a number', { transforms: [transform('Head', { x: 1, z: 2 })] }, 'translation of Head without y'],
    ['a rotation without a number', { transforms: [transform('Head', { x: 1, y: 1, z: 2 }, { pan: 1, tilt: 0 })] }, 'rotation of Head without roll'],
    ['no transforms', { transforms: [] }, 'no transforms'],
    ['a stretched chain', { transforms: [{ ...transform('Crane', { x: 1, y: 1, z: 2 }), scale: { x: 1, y: 2, z: 1 } }] }, 'a scale of Crane that is not 1'],
    ['a place in millimetres', { transforms: [transform('Head', { x: 1500, y: 1, z: 2 })] }, 'a camera more than 1000 m from the stage\'s origin'],
    ['a tracker without its clock', { timing: { sampleRate: { num: 24, denom: 1 }, timecode: labelOf(5), synchronization: { locked: false, source: 'genlock' } } }, 'a tracker that is not locked to its clock'],
    ['a focal length of 0', { lens: { pinholeFocalLength: 0 } }, 'pinholeFocalLength that is 0'],
    ['an entrance pupil in mm', { lens: { entrancePupilOffset: 90 } }, 'entrancePupilOffset that is 90'],
    ['a T-number below the f-number', { lens: { fStop: 2.8, tStop: 2.6 } }, 'T2.6 at f/2.8'],
    ['another version', { protocol: { name: 'OpenTrackIO', version: [2, 0, 0] } }, 'samples of OpenTrackIO 2.0.0'],
    ['another protocol', { protocol: { name: 'AnotherTrack', version: [1, 0, 0] } }, 'samples of AnotherTrack 1.0.0'],
  ])('%s', (_name, change, found) => {
    const { moves, problems } = readAll([...TEN.slice(0, 5), madeSample(5, change)]);
    expect(problems).toMatchObject([{ file: 'tracking/27B-3.json', place: 'sample 6', found }]);
    expect(moves[0]?.samples.length).toBeGreaterThanOrEqual(5);
  });

  it('tells one complaint once, however many samples have it', () => {
    const { problems } = readAll(TEN.map((sample) => ({ ...sample, lens: { fStop: 0 } })));
    expect(problems).toMatchObject([{ place: 'sample 1', found: 'fStop that is 0 (10 samples, this is the first)' }]);
  });

  it('reads round NaN and infinities, which are no JSON, in lists and in lines', () => {
    const text = JSON.stringify([TEN[0], { ...TEN[1], notes: 'a "NaN" in a text' }]).replace('"x":0,', '"x":NaN,').replace('"pinholeFocalLength":35.2', '"pinholeFocalLength":-Infinity');
    for (const form of [text, text.slice(1, -1).replace('},{"protocol"', '}\n{"protocol"')]) {
      const { moves, problems } = read(form);
      expect(moves[0]?.samples).toHaveLength(1);
      expect(problems.map(({ found }) => found)).toEqual(['pinholeFocalLength that is no number', 'translation of Dolly without x']);
    }
  });

  it('knows raw packets, and files that are neither', () => {
    expect(read('OTrk\u0000\u0001')).toMatchObject({ moves: [], problems: [{ code: 'unreadable-file', found: 'raw packets of a live stream' }] });
    for (const text of ['', 'mark,x,y\nA,1,2\n', '[{"protocol"', 'null', '42']) {
      expect(read(text), text).toMatchObject({ moves: [], problems: [{ file: 'tracking/27B-3.json' }] });
    }
    expect(read(`${JSON.stringify(TEN[0])}\n{"protocol":`)).toMatchObject({ moves: [{ samples: { length: 1 } }], problems: [{ place: 'line 2', found: 'a line that is no JSON' }] });
  });

  it('throws for nothing that JSON can hold', () => {
    for (const value of [null, 1, 'x', [], {}, [[]], [null], { timing: 3, transforms: {}, lens: [], static: 'x', tracker: 1, protocol: null }, { timing: { timecode: { hours: -1 }, sampleRate: { num: 0, denom: 0 } } }]) {
      expect(() => read(JSON.stringify(value))).not.toThrow();
      expect(() => read(JSON.stringify([value, ...TEN]))).not.toThrow();
    }
  });
});
