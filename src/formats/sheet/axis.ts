import { lengthOf } from '../../core/timecode/range.ts';
import type { FrameRange } from '../../core/timecode/range.ts';
import type { CurveDot, CurveLine, CurvePanel } from './content.ts';

type Axis = Pick<CurvePanel, 'from' | 'to' | 'steps'>;

/** Steps on an axis at most; more cannot be read in a panel a thumb high. */
const MOST_STEPS = 4;

/** Values are drawn to four decimals: what lies nearer together is one. */
const LEAST_RANGE = 1e-4;

/** An axis that holds every value given, with steps of 1, 2 or 5 times a power of ten. `margin` is a share of their range kept free at either end; values that are all one get a little room. */
export function axisFor(values: readonly number[], margin = 0): Axis {
  const [least, most] = values.reduce(([low, high], value) => [Math.min(low, value), Math.max(high, value)], [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]);
  if (!(most >= least)) return { from: 0, to: 1, steps: [] };
  const isOne = most - least < Math.max(LEAST_RANGE, Math.abs(most) * 1e-9);
  const room = !isOne ? (most - least) * margin : Math.max(Math.abs(most) * 0.01, 1e-3);
  const step = stepFor((most - least + 2 * room) / MOST_STEPS);
  const [first, last] = [Math.floor((least - room) / step + 1e-9), Math.ceil((most + room) / step - 1e-9)];
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const steps = Array.from({ length: last - first + 1 }, (_, index) => {
    const value = Number(((first + index) * step).toFixed(decimals)) + 0;
    return { value, label: value.toFixed(decimals).replace('-', '−') };
  });
  return { from: steps[0]?.value ?? 0, to: steps.at(-1)?.value ?? 1, steps };
}

function stepFor(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  const times = [1, 2, 5, 10].find((factor) => factor * power >= least * (1 - 1e-9)) ?? 10;
  return times * power;
}

/** Columns of a line; a panel is about 400 points wide. */
const COLUMNS = 400;

/** Points as parts of a line: parted where frames are missing, thinned so that of each column the lowest and the highest stay. Values to four decimals. */
export function partsOf(points: readonly CurveDot[], span: FrameRange, longestStep: number): CurveLine['parts'] {
  const parts: CurveDot[][] = [];
  let before: number | undefined;
  for (const { frame, value } of points) {
    const dot = { frame: rounded(frame), value: rounded(value) };
    const part = parts.at(-1);
    if (part === undefined || before === undefined || frame - before > longestStep + 1e-9) parts.push([dot]);
    else part.push(dot);
    before = frame;
  }
  return parts.map((part) => thinned(part, lengthOf(span)));
}

function thinned(part: readonly CurveDot[], span: number): readonly CurveDot[] {
  if (part.length <= COLUMNS * 2) return part;
  const columns = new Map<number, CurveDot[]>();
  for (const dot of part) {
    const column = Math.floor((dot.frame / span) * COLUMNS);
    const known = columns.get(column);
    if (known === undefined) columns.set(column, [dot]);
    else known.push(dot);
  }
  return [...columns.values()].flatMap((dots) => {
    const low = dots.reduce((least, dot) => (dot.value < least.value ? dot : least));
    const high = dots.reduce((most, dot) => (dot.value > most.value ? dot : most));
    return low === high ? [low] : low.frame < high.frame ? [low, high] : [high, low];
  });
}

function rounded(value: number): number {
  return Math.round(value * 1e4) / 1e4 + 0;
}
