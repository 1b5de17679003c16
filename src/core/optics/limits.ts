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
