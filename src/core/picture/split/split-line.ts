/** A point of a line: row first, then column, px. */
export type LinePoint = readonly [y: number, x: number];

/** Where the line of a moving split runs at one lead frame; between keys it moves straight. */
export interface LineKey {
  readonly frame: number;
  readonly line: readonly LinePoint[];
}

/** Lead frames that one static line joins, both included, and where it runs at the middle row. */
export interface StaticStretch {
  readonly from: number;
  readonly to: number;
  readonly x: number;
}

/** The free picture at its narrowest: from `left` to `right` at row `row` (and lead frame `frame` of a moving line), `narrowest` px wide. */
export interface Corridor {
  readonly left: number;
  readonly right: number;
  readonly narrowest: number;
  readonly row: number;
  readonly frame?: number;
}

/** How much room a line has: px of clear picture that a line can keep throughout, and that as a share of the picture's width. */
export interface Margin {
  readonly px: number;
  readonly percentOfWidth: number;
  readonly grade: 'good' | 'fair' | 'poor';
}

/**
 * Whether two passes join along a line. All px are of the raster `width` x `height`; `badFrames` are lead frames, both ends
 * included, in which no line exists.
 */
export interface SplitLine {
  readonly verdict: 'yes' | 'no' | 'cannot tell';
  readonly kind?: 'static' | 'moving';
  readonly width: number;
  readonly height: number;
  /** The static line; of a moving one, where it runs at its first frame. Empty when there is none. */
  readonly line: readonly LinePoint[];
  /** Only of a moving line. */
  readonly keys: readonly LineKey[];
  readonly corridor?: Corridor;
  readonly margin?: Margin;
  readonly badFrames: readonly (readonly [from: number, to: number])[];
  /** What single static lines would reach, when one does not reach everything. */
  readonly segments: readonly StaticStretch[];
  /** Lead frames that block the line which the fewest frames block, both ends included. */
  readonly culprits: readonly (readonly [from: number, to: number])[];
  /** Whether the line holds for whatever sync offset, or only the one tried. */
  readonly slip?: 'any offset' | 'this offset only';
  /** How many pairs of frames were looked at. */
  readonly framesUsed: number;
  /** The pair's own spread of differences, and what counted as one, in 8-bit codes. */
  readonly spread: number;
  readonly threshold: number;
  /** 0..1. */
  readonly confidence: number;
  readonly reasons: readonly string[];
}

/** Of the width of a 4096 px plate: 100 px is good room for a soft edge, under 30 px is poor. Common practice, no source. */
const GOOD_SHARE = 100 / 4096;
const POOR_SHARE = 30 / 4096;

/** What a clearance each side of the line amounts to. */
export function marginOf(clearance: number, width: number): Margin {
  const share = (2 * clearance) / width;
  return { px: 2 * clearance, percentOfWidth: 100 * share, grade: share >= GOOD_SHARE ? 'good' : share < POOR_SHARE ? 'poor' : 'fair' };
}

/** The same answer in px of another raster of the same picture, such as the plate's: the only place where lines are scaled. */
export function scaleSplit(split: SplitLine, raster: { readonly width: number; readonly height: number }): SplitLine {
  const across = raster.width / split.width;
  const down = raster.height / split.height;
  const scaled = (line: readonly LinePoint[]): readonly LinePoint[] => line.map(([y, x]): LinePoint => [y * down, x * across]);
  const { corridor, margin } = split;
  return {
    ...split,
    width: raster.width,
    height: raster.height,
    line: scaled(split.line),
    keys: split.keys.map(({ frame, line }) => ({ frame, line: scaled(line) })),
    segments: split.segments.map((segment) => ({ ...segment, x: segment.x * across })),
    ...(corridor === undefined ? {} : { corridor: { ...corridor, left: corridor.left * across, right: corridor.right * across, narrowest: corridor.narrowest * across, row: corridor.row * down } }),
    ...(margin === undefined ? {} : { margin: { ...margin, px: margin.px * across } }),
  };
}

/** A line as few points: only where it turns. Runs from the top edge to the bottom edge through the middles of pixels. */
export function pointsOf(columns: ArrayLike<number>): readonly LinePoint[] {
  const last = columns.length - 1;
  const at = (y: number): number => (columns[y] ?? 0) + 0.5;
  const points: LinePoint[] = [[0, at(0)]];
  for (let y = 0; y <= last; y++) {
    const turns = y === 0 || y === last || at(y) - at(y - 1) !== at(y + 1) - at(y);
    if (turns && !(at(y) === at(y - 1) && at(y) === at(y + 1))) points.push([y + 0.5, at(y)]);
  }
  points.push([last + 1, at(last)]);
  return points;
}

/** The column of a line at a row, straight between its points. */
export function columnAt(line: readonly LinePoint[], y: number): number {
  for (let i = 1; i < line.length; i++) {
    const [y0, x0] = line[i - 1] ?? [0, 0];
    const [y1, x1] = line[i] ?? [0, 0];
    if (y <= y1) return y1 === y0 ? x1 : x0 + ((y - y0) / (y1 - y0)) * (x1 - x0);
  }
  return line.at(-1)?.[1] ?? 0;
}
