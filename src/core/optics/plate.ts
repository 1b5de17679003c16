import type { SensorArea } from './angle-of-view.ts';
import { assertAbove0, assertLength } from './impossible.ts';
import type { FocalPixels, PicturePoint } from './projection.ts';
import { focalInPixels } from './projection.ts';

/** The picture in which differences are counted: its raster, and the part of the sensor that raster shows. */
export interface Plate {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly sensor: SensorArea;
  /** How much the lens squeezes a picture that still lies squeezed in this raster; 1 for a spherical lens or an unsqueezed raster. */
  readonly squeeze: number;
}

/** Guards a plate. @throws {ImpossibleValueError} */
export function assertPlate({ widthPx, heightPx, sensor, squeeze }: Plate): void {
  assertAbove0('picture width', widthPx, 1e6);
  assertAbove0('picture height', heightPx, 1e6);
  assertLength('sensor width', sensor.widthMm);
  assertLength('sensor height', sensor.heightMm);
  assertAbove0('squeeze', squeeze, 10);
}

/** Focal length in px of the plate, across and down. */
export function focalPixels({ widthPx, heightPx, sensor, squeeze }: Plate, focalLengthMm: number): FocalPixels {
  return { focalX: focalInPixels(focalLengthMm, sensor.widthMm, widthPx, squeeze), focalY: focalInPixels(focalLengthMm, sensor.heightMm, heightPx) };
}

/** Size of one px on the sensor, mm, down the picture (where an anamorphic lens does not squeeze). */
export function pixelPitch({ heightPx, sensor }: Plate): number {
  return sensor.heightMm / heightPx;
}

/** Nine points of the picture, px from its middle: the middle, the middles of the edges, the corners; row by row. */
export function picturePoints({ widthPx, heightPx }: Pick<Plate, 'widthPx' | 'heightPx'>): readonly PicturePoint[] {
  return [-1, 0, 1].flatMap((row) => [-1, 0, 1].map((column) => ({ x: (column * widthPx) / 2 + 0, y: (row * heightPx) / 2 + 0 })));
}

/** Shifts at the nine points by where they are, px: in the middle, the larger of left and right edge, the largest of the corners, the largest of all. */
export interface PlacePx {
  readonly centrePx: number;
  readonly edgePx: number;
  readonly cornerPx: number;
  readonly worstPx: number;
}

/** Sorts nine lengths, in the order of `picturePoints`, by place. */
export function byPlace(lengths: readonly number[]): PlacePx {
  const worstOf = (...indices: readonly number[]): number => Math.max(...indices.map((index) => lengths[index] ?? 0));
  return { centrePx: worstOf(4), edgePx: worstOf(3, 5), cornerPx: worstOf(0, 2, 6, 8), worstPx: Math.max(0, ...lengths) };
}
