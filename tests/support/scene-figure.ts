/** A performer made of a head, a trunk, arms and legs, who can walk, wave and reach. */
export interface Figure {
  /** Where the feet stand, px across the lead frame at rest; may change with the frame. */
  readonly x: number | ((frame: number) => number);
  /** Where the feet stand, px down. Default .93 of the frame height. */
  readonly feetY?: number;
  /** Head to foot, px. */
  readonly height: number;
  /** The costume in codes; the figure hides what is behind it. Default 40. */
  readonly tone?: number;
  /** Instead of `tone`: codes added to what is behind, so that the contrast is the same everywhere. */
  readonly contrast?: number;
  /** How far one arm reaches to the right (negative: left) beyond the trunk, px. Default 0: it hangs. */
  readonly reach?: number | ((frame: number) => number);
  /** Frames one swing of arms and legs takes; 0 stands still. Default 24. */
  readonly stride?: number;
}

/** A thick line with round ends: px. */
export interface Limb {
  readonly fromX: number;
  readonly fromY: number;
  readonly toX: number;
  readonly toY: number;
  readonly radius: number;
}

/** The figure's parts at a frame. */
export function limbsOf(figure: Figure, frame: number, frameHeight: number): readonly Limb[] {
  const h = figure.height;
  const x = typeof figure.x === 'function' ? figure.x(frame) : figure.x;
  const feet = figure.feetY ?? frameHeight * 0.93;
  const reach = typeof figure.reach === 'function' ? figure.reach(frame) : (figure.reach ?? 0);
  const stride = figure.stride ?? 24;
  const swing = stride === 0 ? 0.35 : Math.sin((2 * Math.PI * frame) / stride);
  const hip = feet - 0.48 * h;
  const shoulder = feet - 0.8 * h;
  const hand = 0.1 * h * swing;
  const limb = (fromX: number, fromY: number, toX: number, toY: number, radius: number): Limb => ({ fromX, fromY, toX, toY, radius: radius * h });
  return [
    limb(x, feet - 0.93 * h, x, feet - 0.92 * h, 0.07),
    limb(x, shoulder, x, hip, 0.1),
    limb(x, hip, x + 0.12 * h * swing, feet - 0.04 * h, 0.045),
    limb(x, hip, x - 0.12 * h * swing, feet - 0.04 * h, 0.045),
    limb(x - 0.1 * h, shoulder, x - 0.13 * h - hand, hip, 0.035),
    reach === 0 ? limb(x + 0.1 * h, shoulder, x + 0.13 * h + hand, hip, 0.035) : limb(x, shoulder + 0.04 * h, x + reach, shoulder + 0.08 * h, 0.035),
  ];
}

/** True when the point lies in the limb. */
export function covers(limb: Limb, x: number, y: number): boolean {
  return squareFrom(limb, x, y) <= limb.radius * limb.radius;
}

/** How far inside the limb it lies deepest in the point is, px; negative outside of all. */
export function depthIn(limbs: readonly Limb[], x: number, y: number): number {
  let deepest = -Infinity;
  for (const limb of limbs) deepest = Math.max(deepest, limb.radius - Math.sqrt(squareFrom(limb, x, y)));
  return deepest;
}

/** The square of the distance from the line within the limb. */
function squareFrom(limb: Limb, x: number, y: number): number {
  const alongX = limb.toX - limb.fromX;
  const alongY = limb.toY - limb.fromY;
  const length = alongX * alongX + alongY * alongY;
  const share = length === 0 ? 0 : Math.min(1, Math.max(0, ((x - limb.fromX) * alongX + (y - limb.fromY) * alongY) / length));
  const awayX = x - limb.fromX - share * alongX;
  const awayY = y - limb.fromY - share * alongY;
  return awayX * awayX + awayY * awayY;
}
