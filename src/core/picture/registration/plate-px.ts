import type { Similarity } from './similarity.ts';

/** A raster in px. */
export interface Raster {
  readonly width: number;
  readonly height: number;
}

/**
 * A proxy registration in px of the plate. Scale and turn stay; a shift grows by how much wider and higher the plate is, each
 * way by its own factor because the proxy of a squeezed plate is shown at its true shape.
 */
export function inPlatePx<T extends Similarity>(registration: T, proxy: Raster, plate: Raster): T {
  return { ...registration, dx: registration.dx * (plate.width / proxy.width), dy: registration.dy * (plate.height / proxy.height) };
}

/** A length across the proxy in px of the plate, such as an uncertainty or a corridor. */
export function widthInPlatePx(px: number, proxy: Raster, plate: Raster): number {
  return px * (plate.width / proxy.width);
}

/** A place of the proxy (pixel centres on whole numbers) as a place of the plate. */
export function placeInPlatePx(place: { readonly x: number; readonly y: number }, proxy: Raster, plate: Raster): { readonly x: number; readonly y: number } {
  return { x: ((place.x + 0.5) * plate.width) / proxy.width - 0.5, y: ((place.y + 0.5) * plate.height) / proxy.height - 0.5 };
}
