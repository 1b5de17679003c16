import { assertAbove0 } from './impossible.ts';

/** How far a join may be out before it shows. All of it is a matter of taste and of the show: settings, not facts. */
export interface Limits {
  /** Shift that a 2-D warp can undo, px. */
  readonly shiftPx: number;
  /** Parallax between near and far, px: nothing undoes it. */
  readonly parallaxPx: number;
  /** Difference of blur discs, px. */
  readonly blurPx: number;
  readonly stops: number;
}

/** What a compositor can still hide at 4096 px, scaled to the plate's width: 2 px of shift or parallax, 1 px of blur, 0.1 stop. Common practice, no source. */
export function customaryLimits(widthPx: number): Limits {
  assertAbove0('picture width', widthPx, 1e6);
  const scale = widthPx / 4096;
  return { shiftPx: 2 * scale, parallaxPx: 2 * scale, blurPx: scale, stops: 0.1 };
}
