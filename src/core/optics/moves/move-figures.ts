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

type Most = 'nearPx' | 'farPx' | 'parallaxPx';
type Squares = 'nearSquares' | 'farSquares' | 'parallaxSquares' | 'keystoneSquares';

/** Sums differences up, each looked at once; of equally bad frames the first is the worst. */
export function figuresOf(differences: Iterable<FrameDifference>, pointsEach: number): MoveFigures {
  const sums = { nearSquares: 0, farSquares: 0, parallaxSquares: 0, keystoneSquares: 0 };
  const worst: Partial<Record<Most, FrameDifference>> = {};
  let frames = 0;
  for (const difference of differences) {
    frames += 1;
    for (const squares of SQUARES) sums[squares] += difference[squares];
    for (const most of MOSTS) if (difference[most] > (worst[most]?.[most] ?? -1)) worst[most] = difference;
  }
  const rms = (squares: Squares): number => (frames === 0 ? 0 : Math.sqrt(sums[squares] / (frames * pointsEach)));
  const figures = (most: Most, squares: Squares): Figures => ({ rmsPx: rms(squares), worstPx: worst[most]?.[most] ?? 0, worstFrame: worst[most]?.frame ?? 0 });
  return {
    frames,
    near: figures('nearPx', 'nearSquares'),
    far: figures('farPx', 'farSquares'),
    parallax: figures('parallaxPx', 'parallaxSquares'),
    keystoneRmsPx: rms('keystoneSquares'),
  };
}

const MOSTS = ['nearPx', 'farPx', 'parallaxPx'] as const satisfies readonly Most[];
const SQUARES = ['nearSquares', 'farSquares', 'parallaxSquares', 'keystoneSquares'] as const satisfies readonly Squares[];
