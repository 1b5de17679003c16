import { ImpossibleValueError, assertAbove0 } from './impossible.ts';

/** Length of the smear a moving thing leaves, px: speed (px a frame) · angle/360. */
export function blurLength(speedPxPerFrame: number, shutterDeg: number): number {
  assertSpeed(speedPxPerFrame);
  assertAbove0('shutter', shutterDeg, 360);
  return (speedPxPerFrame * shutterDeg) / 360;
}

/** How many times longer the second pass smears a thing that moves alike in both: t2/t1, exposure times in seconds. */
export function blurRatio(firstS: number, secondS: number): number {
  assertAbove0('exposure time', firstS);
  assertAbove0('exposure time', secondS);
  return secondS / firstS;
}

/** How far a rolling shutter slants a moving thing from the top row to the bottom row, px: speed (px a frame) · readout time · rate. */
export function rollingSkew(speedPxPerFrame: number, readoutS: number, fps: number): number {
  assertSpeed(speedPxPerFrame);
  assertAbove0('readout time', readoutS);
  assertAbove0('rate', fps, 1e6);
  return speedPxPerFrame * readoutS * fps;
}

/** Time from one row's exposure to the next, seconds: readout / rows. */
export function rowDelay(readoutS: number, rows: number): number {
  assertAbove0('readout time', readoutS);
  assertAbove0('rows', rows);
  return readoutS / rows;
}

function assertSpeed(speedPxPerFrame: number): void {
  if (!(speedPxPerFrame >= 0 && speedPxPerFrame <= 1e9)) throw new ImpossibleValueError('speed', speedPxPerFrame, 'px a frame, 0 or more');
}
