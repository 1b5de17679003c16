/** A point or shift in the picture, px from the principal point, x right, y down. */
export interface PicturePoint {
  readonly x: number;
  readonly y: number;
}

/**
 * Where a camera stands and looks. Position in mm, X right, Y down, Z forward at zero angles; angles in degrees. Orientation is pan about Y, then tilt
 * about X, then roll about Z: R = Ry(pan)·Rx(tilt)·Rz(roll).
 */
export interface CameraPose {
  readonly xMm: number;
  readonly yMm: number;
  readonly zMm: number;
  readonly panDeg: number;
  readonly tiltDeg: number;
  readonly rollDeg: number;
  /** Focal length in px of the plate's raster. */
  readonly focalX: number;
  readonly focalY: number;
}

type Matrix = readonly [number, number, number, number, number, number, number, number, number];

/**
 * Focal length in px: f·W/w across and f·H/h down the recorded raster, where w and h are the recorded part of the sensor in mm. On the squeezed raster of
 * an anamorphic lens the horizontal one is shorter by the squeeze.
 */
export function focalInPixels(focalLengthMm: number, sensorMm: number, pixels: number, squeeze = 1): number {
  if (!(focalLengthMm > 0) || !(sensorMm > 0) || !(pixels > 0) || !(squeeze > 0)) {
    throw new RangeError(`no focal length in px from ${focalLengthMm} mm on ${sensorMm} mm over ${pixels} px, squeeze ${squeeze}`);
  }
  return (focalLengthMm * pixels) / (sensorMm * squeeze);
}

/**
 * How far a point moves between two cameras: the first sees it at `at` on a plane `depthMm` ahead of it, the second sees it elsewhere. Full projection, no
 * sum of small angles. Undefined when the point lies behind the second camera.
 */
export function displacement(first: CameraPose, second: CameraPose, at: PicturePoint, depthMm: number): PicturePoint | undefined {
  return displacementBetween(preparePair(first, second), at, depthMm);
}

/** Two cameras made ready for many points: from the first's frame to the second's, worked out once. */
export interface CameraPair {
  readonly first: CameraPose;
  readonly second: CameraPose;
  readonly turn: Matrix;
  readonly shift: readonly [number, number, number];
}

/** Prepares two cameras for `displacementBetween`. */
export function preparePair(first: CameraPose, second: CameraPose): CameraPair {
  const back = transposed(orientation(second));
  return {
    first,
    second,
    turn: product(back, orientation(first)),
    shift: apply(back, [first.xMm - second.xMm, first.yMm - second.yMm, first.zMm - second.zMm]),
  };
}

/** As `displacement`, for a prepared pair. */
export function displacementBetween({ first, second, turn, shift }: CameraPair, at: PicturePoint, depthMm: number): PicturePoint | undefined {
  const [x, y, z] = apply(turn, [(depthMm * at.x) / first.focalX, (depthMm * at.y) / first.focalY, depthMm]);
  const ahead = z + shift[2];
  if (!(ahead > 0)) return undefined;
  return { x: (second.focalX * (x + shift[0])) / ahead - at.x, y: (second.focalY * (y + shift[1])) / ahead - at.y };
}

/** The orientation matrix of a pose, row by row. */
export function orientation({ panDeg, tiltDeg, rollDeg }: Pick<CameraPose, 'panDeg' | 'tiltDeg' | 'rollDeg'>): Matrix {
  const [cp, sp] = cosSin(panDeg);
  const [ct, st] = cosSin(tiltDeg);
  const [cr, sr] = cosSin(rollDeg);
  const pan: Matrix = [cp, 0, sp, 0, 1, 0, -sp, 0, cp];
  const tilt: Matrix = [1, 0, 0, 0, ct, -st, 0, st, ct];
  const roll: Matrix = [cr, -sr, 0, sr, cr, 0, 0, 0, 1];
  return product(product(pan, tilt), roll);
}

function cosSin(degrees: number): readonly [number, number] {
  const angle = (degrees * Math.PI) / 180;
  return [Math.cos(angle), Math.sin(angle)];
}

function product(a: Matrix, b: Matrix): Matrix {
  return [
    a[0] * b[0] + a[1] * b[3] + a[2] * b[6], a[0] * b[1] + a[1] * b[4] + a[2] * b[7], a[0] * b[2] + a[1] * b[5] + a[2] * b[8],
    a[3] * b[0] + a[4] * b[3] + a[5] * b[6], a[3] * b[1] + a[4] * b[4] + a[5] * b[7], a[3] * b[2] + a[4] * b[5] + a[5] * b[8],
    a[6] * b[0] + a[7] * b[3] + a[8] * b[6], a[6] * b[1] + a[7] * b[4] + a[8] * b[7], a[6] * b[2] + a[7] * b[5] + a[8] * b[8],
  ];
}

function transposed(m: Matrix): Matrix {
  return [m[0], m[3], m[6], m[1], m[4], m[7], m[2], m[5], m[8]];
}

function apply(m: Matrix, [x, y, z]: readonly [number, number, number]): readonly [number, number, number] {
  return [m[0] * x + m[1] * y + m[2] * z, m[3] * x + m[4] * y + m[5] * z, m[6] * x + m[7] * y + m[8] * z];
}
