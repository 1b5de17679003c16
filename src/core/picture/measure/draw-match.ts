import type { LumaFrame } from '../frame.ts';
import type { SplitLine } from '../split/split-line.ts';
import { columnAt } from '../split/split-line.ts';
import type { MeasuredMatch } from './measure-match.ts';

/** A picture of 8-bit RGB samples, row by row from the top left. */
export interface RgbPicture {
  readonly width: number;
  readonly height: number;
  readonly samples: Uint8Array;
}

const GAP = 4;
/** Differences are shown this many times stronger, around a middle grey. */
const STRONGER = 8;
const LINE = [255, 200, 0] as const;

type Shown = NonNullable<MeasuredMatch['shown']>;

/**
 * The middle pair of a match as four pictures: the lead and the pass as it lies on the lead, the line over both; the two joined (the
 * lead left of the line; without a line, half of each) and pass minus lead, eight times stronger around grey.
 */
export function drawPanels(shown: Shown): readonly RgbPicture[] {
  const { width, height } = shown.lead;
  return panelsOf(shown).map(({ frame, line }) => {
    const panel = blank(width, height);
    paint(panel, frame, 0, 0, line);
    return panel;
  });
}

/** The four of them in one picture, two above and two below. */
export function drawMatch(shown: Shown): RgbPicture {
  const { width, height } = shown.lead;
  const whole = blank(2 * width + GAP, 2 * height + GAP);
  panelsOf(shown).forEach(({ frame, line }, index) => paint(whole, frame, (index % 2) * (width + GAP), Math.floor(index / 2) * (height + GAP), line));
  return whole;
}

function blank(width: number, height: number): RgbPicture {
  return { width, height, samples: new Uint8Array(3 * width * height) };
}

function panelsOf({ frame, lead, pass, split }: Shown): readonly { readonly frame: LumaFrame; readonly line: readonly number[] | undefined }[] {
  const { width, height } = lead;
  const line = split === undefined ? undefined : columnsOf(split, frame, height);
  const joined = { ...lead, values: lead.values.map((value, at) => joinedAt(value, pass.values[at] ?? 0, at % width, line?.[Math.floor(at / width)])) };
  const difference = { ...lead, values: lead.values.map((value, at) => 128 + STRONGER * ((pass.values[at] ?? 0) - value)) };
  return [{ frame: lead, line }, { frame: pass, line }, { frame: joined, line: undefined }, { frame: difference, line: undefined }];
}

function joinedAt(lead: number, pass: number, x: number, line: number | undefined): number {
  if (line === undefined) return (lead + pass) / 2;
  return x + 0.5 < line ? lead : pass;
}

/** Where the line runs in each row; undefined when there is none. A moving one is taken at its key nearest to the frame. */
function columnsOf({ verdict, kind, line, keys }: SplitLine, frame: number, height: number): readonly number[] | undefined {
  if (verdict !== 'yes') return undefined;
  const nearest = kind === 'moving' ? keys.toSorted((a, b) => Math.abs(a.frame - frame) - Math.abs(b.frame - frame))[0]?.line : line;
  return nearest === undefined ? undefined : Array.from({ length: height }, (_, y) => columnAt(nearest, y + 0.5));
}

function paint(out: RgbPicture, { width, height, values }: LumaFrame, left: number, top: number, line: readonly number[] | undefined): void {
  for (let y = 0; y < height; y++) {
    paintRow(out.samples, 3 * ((top + y) * out.width + left), values, y * width, width);
    const column = Math.floor(line?.[y] ?? -1);
    if (column >= 0 && column < width) out.samples.set(LINE, 3 * ((top + y) * out.width + left + column));
  }
}

function paintRow(samples: Uint8Array, to: number, values: Float32Array, from: number, count: number): void {
  for (let x = 0; x < count; x++) {
    const grey = Math.min(255, Math.max(0, Math.round(values[from + x] ?? 0)));
    samples[to + 3 * x] = grey;
    samples[to + 3 * x + 1] = grey;
    samples[to + 3 * x + 2] = grey;
  }
}
