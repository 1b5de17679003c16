import type { LumaFrame } from '../frame.ts';
import { distanceToMarked } from './distance.ts';
import type { FrameMasks } from './frame-masks.ts';
import { MaskMaker } from './frame-masks.ts';
import { faintStep } from './faint-step.ts';
import { groundCost } from './line-cost.ts';
import { clearancesOf, findMovingLine, movableFrames } from './moving-line.ts';
import { keysOf } from './moving-keys.ts';
import type { Runs } from './runs.ts';
import { stampRuns } from './runs.ts';
import type { SideLimits } from './sides.ts';
import { sideLimits } from './sides.ts';
import type { SplitLine, StaticStretch } from './split-line.ts';
import { marginOf, pointsOf } from './split-line.ts';
import type { LineTask, StaticLine } from './static-line.ts';
import { findStaticLine, GUARD_PX } from './static-line.ts';
import type { FramePair, Still } from './still.ts';
import { makeStill } from './still.ts';
import { coverWithStaticLines, culprits } from './why-not.ts';

/** What the study may be told beyond the frames. */
export interface SplitRules {
  /** Columns of the proxy between which the line must run, both included, when a person says so: then nobody is looked for. */
  readonly within?: { readonly first: number; readonly last: number };
  /** False when the camera moves: then no line holds for another sync. Default true. */
  readonly lockedOff?: boolean;
}

/** Above this spread of differences the passes lie too badly over each other to say anything. Codes. */
const MOST_SPREAD = 2.5;
/** Who differs by less than eight spreads is not seen: above this one, ten codes, a line found is no proof that it is free. */
const MOST_SPREAD_OF_YES = 1.25;
/** When so much of the picture is blocked in half of the frames, it is no performer that differs. */
const MOST_SHARE = 0.6;

/**
 * The study of one pair of passes, fed pair by pair in the order of the lead's frames; it keeps masks of a few kilobytes a
 * pair, never the frames. `still` comes from `makeStill` over a sample of the same pairs.
 */
export class SplitStudy {
  readonly #still: Still;
  readonly #rules: SplitRules;
  readonly #maker: MaskMaker;
  readonly #masks: FrameMasks[] = [];
  readonly #alone: Runs[] = [];

  constructor(still: Still, rules: SplitRules = {}) {
    this.#still = still;
    this.#rules = rules;
    this.#maker = new MaskMaker(still);
  }

  /** The next pair. @throws {RangeError} when its frame does not come after the one before. */
  add(pair: FramePair): void {
    const before = this.#masks.at(-1)?.frame ?? -1;
    if (pair.frame <= before) throw new RangeError(`frame ${pair.frame} cannot follow frame ${before}`);
    this.#masks.push(this.#maker.masksOf(pair));
  }

  /** A frame of either pass that has no partner at the sync tried: it matters only to what the line bears if the sync is moved. */
  addAlone(frame: LumaFrame): void {
    this.#alone.push(this.#maker.masksOf({ frame: 0, lead: frame, swapped: frame }).blocked);
  }

  /** The answer, in px of the proxy; `scaleSplit` brings it to the plate. */
  finish(): SplitLine {
    const { width, height } = this.#still;
    const masks = this.#masks;
    const limits = this.#limits();
    const doubt = this.#doubt(limits);
    if (doubt !== undefined || limits === undefined) return { ...this.#answer('cannot tell', [doubt ?? '']), confidence: 0 };
    const task: LineTask = { width, height, masks, limits, ground: groundCost(this.#still, this.#maker.worst) };
    const line = findStaticLine(task);
    const answer = line === undefined ? this.#withoutStatic(task) : this.#staticAnswer(line);
    const hidden = answer.verdict === 'yes' ? this.#hidden(line) : undefined;
    return hidden === undefined ? answer : { ...this.#answer('cannot tell', [hidden]), confidence: 0 };
  }

  /** Why a line that was found may still run through something, or show. */
  #hidden(line: StaticLine | undefined): string | undefined {
    const { spread } = this.#still;
    if (spread > MOST_SPREAD_OF_YES) return `a line was found, but noise, or light that changed between the passes, hides whatever differs by less than ${(8 * spread).toFixed(0)} codes`;
    const step = line === undefined ? undefined : faintStep(this.#still, this.#maker.sum.map((sum) => sum / this.#masks.length), line);
    return step === undefined ? undefined : `a line was found, but the passes differ along it by ${step.codes.toFixed(1)} codes (rows ${step.top} to ${step.bottom} of ${this.#still.height}): light that changed, or somebody faint`;
  }

  #limits(): readonly SideLimits[] | undefined {
    const { within } = this.#rules;
    if (within !== undefined) return this.#masks.map(() => ({ ...within, why: '' }));
    return sideLimits(this.#masks, this.#still.width, this.#still.photographed);
  }

  #doubt(limits: readonly SideLimits[] | undefined): string | undefined {
    const masks = this.#masks;
    if (masks.length === 0) return 'the passes share no frame';
    const { spread } = this.#still;
    if (!(spread <= MOST_SPREAD)) return `the passes differ by ${spread.toFixed(1)} codes all over (at most ${MOST_SPREAD} can be told from noise): not registered, not graded alike, or not the same picture`;
    const crowded = masks.filter(({ share }) => share > MOST_SHARE).length;
    if (2 * crowded > masks.length) return `more than ${100 * MOST_SHARE} % of the picture differs in ${crowded} of ${masks.length} frames: not registered, not lit alike, or the clean plate is another picture`;
    if (limits === undefined) return 'no frame shows two performers apart, so there is nothing to run a line between';
    if (!this.#still.photographed && 2 * limits.filter(({ why }) => why !== '').length > limits.length) return 'in most frames two performers cannot be told apart without a clean plate';
    return undefined;
  }

  #staticAnswer(line: StaticLine): SplitLine {
    const { width } = this.#still;
    const { left, right, row } = line.narrowest;
    const margin = marginOf(line.clearance, width);
    const slip = this.#rules.lockedOff !== false && this.#holdsAlone(line.columns) ? 'any offset' : 'this offset only';
    const held = slip === 'any offset' ? 'it stays clear of everybody in every frame looked at of both passes, so it holds whichever frame lies under which' : 'at another sync it must be tried again';
    return {
      ...this.#answer('yes', [`one line joins all ${this.#masks.length} frames: ${held}`, ...roomReasons(margin.grade)]),
      kind: 'static', line: pointsOf(line.columns), corridor: { left, right, narrowest: right - left, row }, margin, slip,
      confidence: this.#confidence(line.clearance),
    };
  }

  /** Frames without a partner, too, must leave the line alone. */
  #holdsAlone(columns: Int32Array): boolean {
    const { width, height } = this.#still;
    const marked = new Uint8Array(width * height);
    for (const runs of this.#alone) stampRuns(runs, marked, width, height);
    const away = distanceToMarked(marked, width, height, width);
    return columns.every((x, y) => (away[y * width + x] ?? 0) > GUARD_PX);
  }

  #withoutStatic(task: LineTask): SplitLine {
    const { height, masks } = task;
    const cover = coverWithStaticLines(task);
    const segments = cover.joined.map(({ start, end }) => this.#stretch(task, start, end));
    const shared = { segments, culprits: this.#framesOf(runsOfIndices(culprits(task))) };
    const said = segments.map(({ from, to, x }) => `${from} to ${to} at x ${Math.round(x)} of ${task.width}`).join(', ');
    const noStatic = `no single static line; static lines would reach frames ${said === '' ? 'nowhere' : said}`;
    if (cover.blocked.length > 0) {
      const badFrames = this.#framesOf(cover.blocked.map(({ start, end }) => [start, end - 1]));
      const why = cover.blocked.some(({ start, end }) => task.limits.slice(start, end).some((limit) => limit.why === 'contact')) ? 'the performers touch or hide each other' : 'the way is closed from top to bottom';
      return { ...this.#answer('no', [noStatic, `frames ${rangesText(badFrames)} are blocked in every line: ${why}`]), ...shared, badFrames, confidence: this.#confidence(12) };
    }
    const clearances = clearancesOf(task);
    const line = findMovingLine(task, clearances);
    if (line === undefined) {
      const badFrames = this.#framesOf(breaksOf(task, clearances));
      return { ...this.#answer('no', [noStatic, `a moving line would have to jump at frames ${rangesText(badFrames)}`]), ...shared, badFrames, confidence: this.#confidence(6) };
    }
    const frames = masks.map(({ frame }) => frame);
    const keys = keysOf(line, frames, height, clearances);
    const { left, right, row, index } = line.narrowest;
    const margin = marginOf(line.clearance, task.width);
    return {
      ...this.#answer('yes', [noStatic, 'a moving line joins all frames at this sync; at another it must be tried again', ...roomReasons(margin.grade)]),
      ...shared, kind: 'moving', line: keys[0]?.line ?? [], keys, margin, slip: 'this offset only',
      corridor: { left, right, narrowest: right - left, row, frame: frames[index] ?? 0 },
      confidence: this.#confidence(line.clearance),
    };
  }

  #stretch(task: LineTask, start: number, end: number): StaticStretch {
    const line = findStaticLine({ ...task, masks: task.masks.slice(start, end), limits: task.limits.slice(start, end) });
    return { from: task.masks[start]?.frame ?? 0, to: task.masks[end - 1]?.frame ?? 0, x: (line?.columns[task.height >> 1] ?? 0) + 0.5 };
  }

  #framesOf(indices: readonly (readonly [number, number])[]): readonly (readonly [number, number])[] {
    return indices.map(([from, to]) => [this.#masks[from]?.frame ?? 0, this.#masks[to]?.frame ?? 0]);
  }

  #answer(verdict: SplitLine['verdict'], reasons: readonly string[]): SplitLine {
    const { width, height, spread, photographed } = this.#still;
    const without = photographed ? [] : ['without a clean plate the empty set is guessed from the passes: who stands still for half of both is not seen'];
    return {
      verdict, width, height, line: [], keys: [], badFrames: [], segments: [], culprits: [], framesUsed: this.#masks.length,
      spread, threshold: Math.max(1, 8 * spread), confidence: 0, reasons: [...reasons, ...without],
    };
  }

  /** Lower with little room, without a clean plate and from few frames; the steps are a judgement, not a measurement. */
  #confidence(clearance: number): number {
    const room = 0.6 + 0.4 * Math.min(1, clearance / 8);
    return 0.97 * room * (this.#still.photographed ? 1 : 0.85) * (this.#masks.length < 8 ? 0.8 : 1);
  }
}

/** Whether passes whose frames are all at hand join along a line; `within` and `lockedOff` as in the study. */
export function studySplit(pairs: readonly FramePair[], cleanPlate?: LumaFrame, rules: SplitRules = {}): SplitLine {
  const study = new SplitStudy(makeStill(sampleOf(pairs), cleanPlate), rules);
  for (const pair of pairs) study.add(pair);
  return study.finish();
}

/** Up to `most` of a list, evenly spread, the first and the last among them. */
export function sampleOf<T>(all: readonly T[], most = 16): readonly T[] {
  if (all.length <= most) return all;
  return Array.from({ length: most }, (_, i) => Math.round((i * (all.length - 1)) / (most - 1))).flatMap((at) => all.slice(at, at + 1));
}

function roomReasons(grade: 'good' | 'fair' | 'poor'): readonly string[] {
  return grade === 'poor' ? ['there is little room: a soft edge may touch a performer'] : [];
}

/** Where a moving line cannot go on: the last frame it reaches and the one after. */
function breaksOf(task: LineTask, clearances: readonly Uint8Array[]): readonly (readonly [number, number])[] {
  const breaks: (readonly [number, number])[] = [];
  let start = 0;
  while (start < task.masks.length) {
    start += Math.max(1, movableFrames(task, clearances, start));
    if (start < task.masks.length) breaks.push([start - 1, start]);
  }
  return breaks;
}

function runsOfIndices(indices: readonly number[]): readonly (readonly [number, number])[] {
  const runs: (readonly [number, number])[] = [];
  for (const index of indices) {
    const before = runs.at(-1);
    if (before !== undefined && before[1] === index - 1) runs[runs.length - 1] = [before[0], index];
    else runs.push([index, index]);
  }
  return runs;
}

function rangesText(ranges: readonly (readonly [number, number])[]): string {
  return ranges.map(([from, to]) => (from === to ? `${from}` : `${from} to ${to}`)).join(', ');
}
