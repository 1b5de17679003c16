import type { Encoding } from '../exposure/encoding.ts';
import { stopsBetween } from '../exposure/encoding.ts';
import { median } from '../pixels/order.ts';
import { cadenceOf } from './cadence.ts';
import type { FrameNumbers } from './measure-frame.ts';

/** Frames counted from 0 in the clip, `end` exclusive. */
export interface FrameSpan {
  readonly start: number;
  readonly end: number;
}

/** What is wrong with the frames of a clip. */
export interface FrameFaults {
  readonly frames: number;
  /** Three frames or more that show one instant; the first of them is the good one. */
  readonly frozen: readonly FrameSpan[];
  /** Frames that repeat the one before, outside of `frozen`. */
  readonly repeated: readonly number[];
  /** Repeats that come round at one distance: a rate conversion, such as every 5th frame for 24 made 30. */
  readonly cadence?: { readonly every: number; readonly repeats: number };
  /** Frames of which at least 98 % is darker than a tenth of the range. */
  readonly black: readonly FrameSpan[];
  /** Those of them without any picture or grain at all: a cap on the lens, or filler. */
  readonly blank: readonly FrameSpan[];
  /** Single frames over one stop brighter than both neighbours. */
  readonly flashes: readonly number[];
  /** 'certain' by hashes of whole frames or grain that stands still; 'unsure' when most of the clip shows no change anyway (a still, or a codec that repeats blocks). */
  readonly repeatsAre: 'certain' | 'unsure';
}

const BLACK_SHARE = 0.98;
/** Spread under which a dark frame holds nothing, codes. */
const BLANK_SPREAD = 0.5;
/** A repeat that was encoded again changes less than this share of what frames usually change. */
const NEAR_REPEAT = 0.15;
const FROZEN_FRAMES = 3;
const FLASH_STOPS = 1;

/** Judges a clip by the numbers of its frames. */
export function judgeFrames(numbers: readonly FrameNumbers[], encoding: Encoding): FrameFaults {
  const black = numbers.map(({ darkShare }) => darkShare >= BLACK_SHARE);
  const blank = numbers.map(({ spread }, i) => black[i] === true && spread < BLANK_SPREAD);
  const { repeats, sure } = repeatsOf(numbers, blank);
  const runs = spansOf(repeats).map(({ start, end }) => ({ start: start - 1, end }));
  const frozen = runs.filter(({ start, end }) => end - start >= FROZEN_FRAMES);
  const repeated = runs.filter(({ start, end }) => end - start < FROZEN_FRAMES).map(({ end }) => end - 1);
  const cadence = cadenceOf(repeated);
  return {
    frames: numbers.length,
    frozen,
    repeated,
    ...(cadence === undefined ? {} : { cadence }),
    black: spansOf(black),
    blank: spansOf(blank),
    flashes: flashesOf(numbers, encoding),
    repeatsAre: sure ? 'certain' : 'unsure',
  };
}

/** A dark frame without grain repeats itself by nature, so it is not accused. */
function repeatsOf(numbers: readonly FrameNumbers[], blank: readonly boolean[]): { readonly repeats: readonly boolean[]; readonly sure: boolean } {
  const hashed = numbers.some(({ sameHash }) => sameHash !== undefined);
  if (hashed) return { repeats: numbers.map(({ sameHash }, i) => sameHash === true && blank[i] !== true), sure: true };
  const changes = numbers.flatMap(({ change }, i) => (change === undefined || blank[i] === true ? [] : [change]));
  const greatest = numbers.flatMap(({ greatestChange }, i) => (greatestChange === undefined || blank[i] === true ? [] : [greatestChange]));
  const [usual, usualGreatest] = [median(changes), median(greatest)];
  const repeats = numbers.map(({ change, greatestChange }, i) => {
    if (change === undefined || greatestChange === undefined || blank[i] === true) return false;
    return change === 0 || (change < NEAR_REPEAT * usual && greatestChange < NEAR_REPEAT * usualGreatest);
  });
  return { repeats, sure: usual > 0 };
}

function spansOf(flags: readonly boolean[]): readonly FrameSpan[] {
  const spans: FrameSpan[] = [];
  for (const [frame, set] of flags.entries()) {
    if (!set) continue;
    const open = spans.at(-1);
    if (open?.end === frame) spans[spans.length - 1] = { start: open.start, end: frame + 1 };
    else spans.push({ start: frame, end: frame + 1 });
  }
  return spans;
}

function flashesOf(numbers: readonly FrameNumbers[], encoding: Encoding): readonly number[] {
  return [...numbers.keys()].filter((frame) => {
    const [before, now, after] = [numbers[frame - 1], numbers[frame], numbers[frame + 1]];
    if (before === undefined || now === undefined || after === undefined) return false;
    return stopsBetween(before.mean, now.mean, encoding) > FLASH_STOPS && stopsBetween(after.mean, now.mean, encoding) > FLASH_STOPS;
  });
}
