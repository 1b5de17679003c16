import type { FrameDifference } from './frame-difference.ts';

/** One kind of difference over all frames, px. `worstFrame` is a frame of the first move. */
export interface Figures {
  readonly rmsPx: number;
  readonly worstPx: number;
  readonly worstFrame: number;
}

/**
 * What a compared move amounts to. The shift on the far plane is what a 2-D warp can undo, frame by frame; `keystoneRmsPx` is what is left of it when only shift,
 * scale and turn are allowed; `parallax` stays.
 */
export interface MoveFigures {
  readonly frames: number;
  readonly near: Figures;
  readonly far: Figures;
  readonly parallax: Figures;
  readonly keystoneRmsPx: number;
}

/** Sums differences up; of equally bad frames the first is the worst. */
export function figuresOf(differences: readonly FrameDifference[], pointsEach: number): MoveFigures {
  const figures = (worst: 'nearPx' | 'farPx' | 'parallaxPx', squares: 'nearSquares' | 'farSquares' | 'parallaxSquares'): Figures => {
    let [worstPx, worstFrame] = [-1, 0];
    for (const difference of differences) if (difference[worst] > worstPx) [worstPx, worstFrame] = [difference[worst], difference.frame];
    return { rmsPx: rootMeanSquare(differences, squares, pointsEach), worstPx: Math.max(0, worstPx), worstFrame };
  };
  return {
    frames: differences.length,
    near: figures('nearPx', 'nearSquares'),
    far: figures('farPx', 'farSquares'),
    parallax: figures('parallaxPx', 'parallaxSquares'),
    keystoneRmsPx: rootMeanSquare(differences, 'keystoneSquares', pointsEach),
  };
}

/** Root mean square over frames and points; 0 without frames. */
export function rootMeanSquare(differences: readonly FrameDifference[], squares: 'nearSquares' | 'farSquares' | 'parallaxSquares' | 'keystoneSquares', pointsEach: number): number {
  let sum = 0;
  for (const difference of differences) sum += difference[squares];
  return differences.length === 0 ? 0 : Math.sqrt(sum / (differences.length * pointsEach));
}
