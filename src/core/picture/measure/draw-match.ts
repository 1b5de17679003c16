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
 * The middle pair of a match as four pictures: above, the lead and the pass as it lies on the lead, the line over both; below, the
 * two joined (the lead left of the line; without a line, half of each) and pass minus lead, eight times stronger around grey.
 */
export function drawMatch(shown: Shown): { readonly panels: readonly RgbPicture[]; readonly whole: RgbPicture } {
  const { width, height } = shown.lead;
  const whole = blank(2 * width + GAP, 2 * height + GAP);
  const panels = panelsOf(shown).map(({ frame, line }, index) => {
    paint(whole, frame, (index % 2) * (width + GAP), Math.floor(index / 2) * (height + GAP), line);
    const panel = blank(width, height);
    paint(panel, frame, 0, 0, line);
    return panel;
  });
  return { panels, whole };
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
    const column = line === undefined ? -1 : Math.floor(line[y] ?? -1);
    for (let x = 0; x < width; x++) {
      const at = 3 * ((top + y) * out.width + left + x);
      const grey = Math.min(255, Math.max(0, Math.round(values[y * width + x] ?? 0)));
      const isLine = line !== undefined && x === column;
      for (let channel = 0; channel < 3; channel++) out.samples[at + channel] = isLine ? (LINE[channel] ?? 0) : grey;
    }
  }
}
