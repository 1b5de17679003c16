import fc from 'fast-check';
import { glMatrix, mat4, vec4 } from 'gl-matrix';
import { describe, expect, it } from 'vitest';
import type { CameraPose, PicturePoint } from '../../../src/core/optics/projection.ts';
import { aimOf, displacement, orientation } from '../../../src/core/optics/projection.ts';

// gl-matrix keeps float32 unless told otherwise, which is too coarse for px.
glMatrix.setMatrixArrayType(Array);

/** The camera's frame in the world, built with gl-matrix: x right, y down, z forward. */
function frameOf({ xMm, yMm, zMm, panDeg, tiltDeg, rollDeg }: CameraPose): mat4 {
  const radians = (degrees: number): number => (degrees * Math.PI) / 180;
  const frame = mat4.translate(mat4.create(), mat4.create(), [xMm, yMm, zMm]);
  mat4.rotateY(frame, frame, radians(panDeg));
  mat4.rotateX(frame, frame, radians(tiltDeg));
  return mat4.rotateZ(frame, frame, radians(rollDeg));
}

/** Where the second camera sees what the first sees at a point on a plane, by a chain of 4 × 4 matrices of gl-matrix. */
function seenBySecond(first: CameraPose, second: CameraPose, at: PicturePoint, depthMm: number): PicturePoint | undefined {
  const inFirst: [number, number, number, number] = [(at.x / first.focalX) * depthMm, (at.y / first.focalY) * depthMm, depthMm, 1];
  const between = mat4.multiply(mat4.create(), mat4.invert(mat4.create(), frameOf(second)) ?? mat4.create(), frameOf(first));
  const [x = 0, y = 0, z = 0] = vec4.transformMat4(vec4.create(), inFirst, between);
  return z > 0 ? { x: (second.focalX * x) / z, y: (second.focalY * y) / z } : undefined;
}

const pose = fc.record({
  xMm: fc.double({ min: -500, max: 500, noNaN: true }),
  yMm: fc.double({ min: -500, max: 500, noNaN: true }),
  zMm: fc.double({ min: -500, max: 500, noNaN: true }),
  panDeg: fc.double({ min: -180, max: 180, noNaN: true }),
  tiltDeg: fc.double({ min: -85, max: 85, noNaN: true }),
  rollDeg: fc.double({ min: -180, max: 180, noNaN: true }),
  focalX: fc.double({ min: 1000, max: 20_000, noNaN: true }),
  focalY: fc.double({ min: 1000, max: 20_000, noNaN: true }),
});
const nearby = (from: CameraPose): fc.Arbitrary<CameraPose> =>
  fc.record({ turn: fc.double({ min: -20, max: 20, noNaN: true }), lean: fc.double({ min: -20, max: 20, noNaN: true }), to: pose }).map(({ turn, lean, to }) => ({
    ...to,
    panDeg: from.panDeg + turn,
    tiltDeg: from.tiltDeg + lean / 4,
    rollDeg: from.rollDeg + lean,
  }));
const at = fc.record({ x: fc.double({ min: -2048, max: 2048, noNaN: true }), y: fc.double({ min: -1080, max: 1080, noNaN: true }) });

describe('projection against gl-matrix 3.4', () => {
  it('puts a point where a chain of 4 × 4 matrices puts it', () => {
    fc.assert(
      fc.property(pose.chain((first) => fc.tuple(fc.constant(first), nearby(first))), at, fc.double({ min: 1500, max: 50_000, noNaN: true }), ([first, second], point, depthMm) => {
        const ours = displacement(first, second, point, depthMm);
        const theirs = seenBySecond(first, second, point, depthMm);
        fc.pre(ours !== undefined && theirs !== undefined && Math.hypot(theirs.x, theirs.y) < 1e5);
        expect((ours?.x ?? Number.NaN) + point.x).toBeCloseTo(theirs?.x ?? Number.NaN, 5);
        expect((ours?.y ?? Number.NaN) + point.y).toBeCloseTo(theirs?.y ?? Number.NaN, 5);
      }),
      { numRuns: 2000 },
    );
  });

  it('agrees that a point lies behind the second camera', () => {
    const first: CameraPose = { xMm: 0, yMm: 0, zMm: 0, panDeg: 0, tiltDeg: 0, rollDeg: 0, focalX: 5000, focalY: 5000 };
    for (const second of [{ ...first, panDeg: 120 }, { ...first, zMm: 3000 }]) {
      expect(displacement(first, second, { x: 0, y: 0 }, 2000)).toBeUndefined();
      expect(seenBySecond(first, second, { x: 0, y: 0 }, 2000)).toBeUndefined();
    }
  });

  it('reads an aim back from the matrix it made', () => {
    fc.assert(
      fc.property(pose, (one) => {
        const again = orientation(aimOf(orientation(one)));
        orientation(one).forEach((value, index) => expect(again[index]).toBeCloseTo(value, 9));
      }),
    );
    for (const tiltDeg of [90, -90]) {
      const steep = orientation({ panDeg: 30, tiltDeg, rollDeg: 20 });
      orientation(aimOf(steep)).forEach((value, index) => expect(value).toBeCloseTo(steep[index] ?? Number.NaN, 9));
    }
  });
});
