/**
 * Draws the invented set that the sample clips show: a room with a door frame in the middle, a window, a table, and up to two
 * figures. Everything is computed, so the samples hold no photographed material and can be remade at will.
 */

export const WIDTH = 320;
export const HEIGHT = 180;

export type Figure = 'performer-a' | 'performer-b' | 'double' | 'none';

/** What stands where, and how the camera looks at it. Lengths in metres, angles in degrees. */
export interface View {
  readonly left: Figure;
  readonly right: Figure;
  readonly set: 'room' | 'screen' | 'grey-ball' | 'chrome-ball';
  readonly focalLengthMm: number;
  readonly heightM: number;
  readonly sideM: number;
  readonly tiltDeg: number;
  readonly rollDeg: number;
  readonly stops: number;
  /** Red over blue, 1 is neutral. */
  readonly warmth: number;
  /** Phase of the figures' small movements, so that passes differ as performances do. */
  readonly phase: number;
  /** Sideways travel of the camera over the take, and how much it rises meanwhile, metres. */
  readonly travelM: number;
  readonly riseM: number;
  readonly seed: number;
  /** How far both figures walk towards the middle and back, metres: at .5 they touch. */
  readonly approachM: number;
  /** How many times larger than `WIDTH` x `HEIGHT` the frame is drawn. */
  readonly times: 1 | 2;
  /** 1 for the grain of the movies, 0 for none (picture sequences pack better without). */
  readonly grain: number;
}

type Rgb = readonly [number, number, number];

/** One 8-bit RGB frame, `WIDTH × HEIGHT × 3` bytes (`times` as many each way), at time `t` seconds of `length` seconds. */
export function drawFrame(view: View, t: number, length: number): Uint8Array {
  const width = WIDTH * view.times;
  const height = HEIGHT * view.times;
  const pixels = new Uint8Array(width * height * 3);
  const along = ease(length === 0 ? 0 : t / length);
  const side = view.sideM + view.travelM * along;
  const seen = { ...view, heightM: view.heightM + view.riseM * along, approachM: view.approachM * Math.sin((Math.PI * t) / Math.max(length, 1e-6)) };
  const pixelsPerUnit = (view.focalLengthMm / 24.89) * width;
  const cos = Math.cos((view.rollDeg * Math.PI) / 180);
  const sin = Math.sin((view.rollDeg * Math.PI) / 180);
  const tiltPx = Math.tan((view.tiltDeg * Math.PI) / 180) * pixelsPerUnit;
  const gain = 2 ** view.stops;
  let noise = (view.seed * 2654435761 + Math.round(t * 1000) * 40503) >>> 0;
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const px = x - width / 2 + 0.5;
      const py = y - height / 2 + 0.5 - tiltPx;
      const rx = (px * cos + py * sin) / pixelsPerUnit;
      const ry = (-px * sin + py * cos) / pixelsPerUnit;
      const colour = view.set === 'room' ? room(seen, rx, ry, side, t) : studio(seen, rx, ry, t);
      noise = (noise * 1664525 + 1013904223) >>> 0;
      const grain = (view.grain * ((noise >>> 24) - 128)) / 96;
      const at = (y * width + x) * 3;
      pixels[at] = clamp(colour[0] * gain * view.warmth + grain);
      pixels[at + 1] = clamp(colour[1] * gain + grain);
      pixels[at + 2] = clamp((colour[2] * gain) / view.warmth + grain);
    }
  }
  return pixels;
}

/** The room: wall at 6 m, figures at 3.2 m, table at 2.2 m. Nearer things move more when the camera moves. */
function room(view: View, rx: number, ry: number, side: number, t: number): Rgb {
  const at = (depth: number): readonly [number, number] => [rx * depth + side, view.heightM - ry * depth];
  const [tx, ty] = at(2.2);
  const onTable = table(tx, ty);
  if (onTable !== undefined) return onTable;
  const [fx, fy] = at(3.2);
  const figure = person(view.left, fx + 0.62 - view.approachM, fy, t + view.phase) ?? person(view.right, fx - 0.62 + view.approachM, fy, t * 0.9 + view.phase * 1.7);
  if (figure !== undefined) return figure;
  const [wx, wy] = at(6);
  return view.times === 1 ? wall(wx, wy) : plastered(wall(wx, wy), wx, wy);
}

/** A screen or a reference ball on a stand, without the room. */
function studio(view: View, rx: number, ry: number, t: number): Rgb {
  const x = rx * 3.2;
  const y = view.heightM - ry * 3.2;
  if (view.set === 'screen') {
    return person(view.left, x + 0.1, y, t + view.phase) ?? [34 + 4 * x, 138 - 9 * x * x, 48];
  }
  const dx = x;
  const dy = y - 1.35;
  const radius = 0.3;
  const distance = Math.hypot(dx, dy);
  if (distance < radius) return ball(view.set, dx / radius, dy / radius);
  if (Math.abs(dx) < 0.02 && dy < 0) return [40, 40, 42];
  return wall(rx * 6, view.heightM - ry * 6);
}

function ball(set: View['set'], nx: number, ny: number): Rgb {
  const nz = Math.sqrt(Math.max(0, 1 - nx * nx - ny * ny));
  const light = Math.max(0, -0.45 * nx + 0.6 * ny + 0.66 * nz);
  if (set === 'grey-ball') return [24 + 100 * light, 24 + 100 * light, 25 + 100 * light];
  const band = ny + 0.25 * nx > 0.1 ? 150 + 70 * ny : 58 + 30 * nx;
  const glint = light > 0.97 ? 90 : 0;
  return [band + glint, band + glint, band * 1.04 + glint];
}

function wall(x: number, y: number): Rgb {
  if (y < 0) return [70 + 8 * Math.sin(x * 9), 56 + 5 * Math.sin(x * 9), 44];
  if (Math.abs(x) < 0.55 && y < 2.15) {
    if (Math.abs(x) > 0.45 || y > 2.05) return [196, 188, 170];
    const panel = Math.abs(x) < 0.32 && ((y > 0.25 && y < 0.95) || (y > 1.15 && y < 1.85));
    if (Math.hypot(x - 0.37, y - 1.02) < 0.04) return [180, 150, 80];
    return panel ? [92, 58, 44] : [108, 70, 52];
  }
  if (x < -1.3 && x > -2.5 && y > 1 && y < 2.2) {
    const bar = Math.abs(x + 1.9) < 0.04 || Math.abs(y - 1.6) < 0.04;
    return bar ? [190, 184, 168] : [150 + 30 * (y - 1), 176 + 24 * (y - 1), 196];
  }
  if (y < 0.95) return [86 + 4 * Math.sin(x * 21), 98, 88];
  if (y < 1.02) return [172, 164, 148];
  const shade = 1 - 0.06 * Math.abs(x) + 0.04 * Math.sin(x * 7) * Math.sin(y * 6);
  return [142 * shade, 150 * shade, 136 * shade];
}

/** The wall as it is seen from near: clouds of old paint and the grain of the plaster. */
function plastered(colour: Rgb, x: number, y: number): Rgb {
  const shade = 1 + 0.16 * (cloud(x * 5, y * 5) - 0.5) + 0.12 * (cloud(x * 17, y * 17) - 0.5);
  return [colour[0] * shade, colour[1] * shade, colour[2] * shade];
}

/** 0 to 1: numbers thrown on a grid, smoothly between. */
function cloud(x: number, y: number): number {
  const [left, top] = [Math.floor(x), Math.floor(y)];
  const [across, down] = [ease(x - left), ease(y - top)];
  const upper = thrown(left, top) * (1 - across) + thrown(left + 1, top) * across;
  const lower = thrown(left, top + 1) * (1 - across) + thrown(left + 1, top + 1) * across;
  return upper * (1 - down) + lower * down;
}

function thrown(x: number, y: number): number {
  let bits = Math.imul(x, 374761393) ^ Math.imul(y, 668265263);
  bits = Math.imul(bits ^ (bits >>> 13), 1274126177);
  return ((bits ^ (bits >>> 16)) >>> 0) / 2 ** 32;
}

function table(x: number, y: number): Rgb | undefined {
  if (x > 0.45 && x < 1.25 && y < 0.76 && y > 0.7) return [120, 82, 50];
  if ((Math.abs(x - 0.55) < 0.03 || Math.abs(x - 1.15) < 0.03) && y < 0.7) return [88, 60, 38];
  if (Math.abs(x - 0.8) < 0.045 && y >= 0.76 && y < 0.95) return [52, 92, 120];
  if (Math.hypot(x - 0.8, y - 1.02) < 0.1 && y >= 0.95) return [196, 90, 74];
  return undefined;
}

/** A standing figure with its feet at y = 0, 1.75 m tall, swaying a little. */
function person(figure: Figure, x: number, y: number, t: number): Rgb | undefined {
  if (figure === 'none' || y < 0 || y > 1.8) return undefined;
  const sway = 0.025 * Math.sin(t * 1.9) * (y / 1.75);
  const cx = x - sway;
  const [coat, dark] = COATS[figure];
  if (Math.hypot(cx, (y - 1.62) * 0.82) < 0.115) {
    if (figure === 'double') return [150, 140, 132];
    return y > 1.66 ? [48, 34, 28] : [206, 164, 138];
  }
  const armSwing = 0.07 * Math.sin(t * 2.6);
  const arm = Math.abs(Math.abs(cx) - (0.25 + armSwing * (1.4 - y))) < 0.05 && y > 0.8 && y < 1.42;
  const torso = Math.abs(cx) < 0.15 + 0.07 * Math.min(1, Math.max(0, (y - 0.75) / 0.6)) && y > 0.75 && y < 1.5;
  if (torso || arm) return Math.abs(cx) < 0.012 ? dark : coat;
  const leg = Math.abs(Math.abs(cx) - 0.09) < 0.07 && y < 0.8;
  return leg ? dark : undefined;
}

const COATS: Record<Exclude<Figure, 'none'>, readonly [Rgb, Rgb]> = {
  'performer-a': [[176, 84, 48], [70, 44, 36]],
  'performer-b': [[44, 118, 122], [30, 48, 58]],
  double: [[112, 112, 116], [66, 66, 70]],
};

/** 0 to 1 with a soft start and a soft end. */
export function ease(fraction: number): number {
  const f = Math.min(1, Math.max(0, fraction));
  return f * f * (3 - 2 * f);
}

function clamp(value: number): number {
  return value <= 0 ? 0 : value >= 255 ? 255 : value;
}
