import type { ComparedMove } from '../../core/checks/compared-move.ts';
import type { LimitedCurve } from '../../core/checks/pass-along.ts';
import type { MatchedPasses } from '../../core/checks/passes.ts';
import { layMove } from '../../core/material/move-on-clip.ts';
import type { RecordedMove, TrackedSample } from '../../core/material/tracked-move.ts';
import type { ChangingPart } from '../../core/optics/along-take.ts';
import type { Channel } from '../../core/optics/moves/attribute.ts';
import { LONGEST_GAP_FRAMES } from '../../core/optics/moves/posed-move.ts';
import { matrixOf } from '../../core/optics/moves/quaternion.ts';
import { aimOf } from '../../core/optics/projection.ts';
import type { FrameRange } from '../../core/timecode/range.ts';
import { rateAsNumber } from '../../core/timecode/rate.ts';
import { axisFor, partsOf } from './axis.ts';
import { roleName, shortName } from './clip-words.ts';
import type { CurveDot, CurveLine, CurvePanel, CurvePlot } from './content.ts';
import { ticksOf } from './coverage-drawing.ts';
import { numberWords } from './value-words.ts';

type Tracked = Extract<ComparedMove, { kind: 'tracked' }>;
type Noted = Extract<ComparedMove, { kind: 'marks' }>;

const PART_WORDS: Readonly<Record<ChangingPart, readonly [what: string, unit: string]>> = {
  focalLength: ['focal length', 'mm'], focus: ['focus distance', 'm'], iris: ['stop', 'as noted'], pan: ['pan', '°'], tilt: ['tilt', '°'], roll: ['roll', '°'],
};

/** A lens value of both passes, and under it what the difference costs, with its limit and its worst frame. */
export function lensPlot(passes: MatchedPasses, { curve, limit }: LimitedCurve): CurvePlot {
  const { points, worst, of, unit } = curve;
  const span = spanOf(points);
  const [what, whatUnit] = PART_WORDS[of];
  const both = [
    lineOf('lead', 'solid', points.map(({ frame, first }) => ({ frame, value: first })), span),
    lineOf(roleName(passes.role), 'dashed', points.map(({ frame, second }) => ({ frame, value: second })), span),
  ];
  const cost = [lineOf(of === 'focus' ? 'difference of blur' : 'difference', 'solid', points.map(({ frame, amount }) => ({ frame, value: amount })), span)];
  return plotOf(passes, what, span, [
    panelOf(`${what}, ${whatUnit}`, both),
    costPanel(`difference, ${unit}`, cost, { value: limit, label: `limit ${numberWords(limit, 2)} ${unit}` }, worst === undefined ? undefined : { frame: worst.frame, value: worst.amount, label: `frame ${worst.frame}: ${numberWords(worst.amount, 2)} ${unit}` }),
  ]);
}

/** Two channels of a tracked move of both passes (the one most of the difference comes from, the one that moves most), and under them the px. */
export function movePlot(move: Tracked): CurvePlot {
  const { comparison, passes, each, limits } = move;
  const px = comparison.frames.map((one) => ({ ...one, frame: one.frame / each }));
  const span = spanOf(px);
  const [worstChannel] = comparison.channels;
  const sides = [samplesOf(move.lead, passes.lead, 0, each), samplesOf(move.pass, passes.pass, passes.sync.offset, each)] as const;
  const shown = [...new Set([worstChannel?.channel ?? 'side', busiest(sides[0])])];
  const channels = shown.map((channel) => {
    const [what, unit, valueOf] = CHANNELS[channel];
    const line = (side: (typeof sides)[0], name: string, look: CurveLine['look']): CurveLine =>
      lineOf(name, look, unwrapped(side.flatMap(({ frame, sample }) => (frame < span.start || frame >= span.end ? [] : [{ frame, value: valueOf(sample) }])), unit), span);
    return panelOf(`${what}, ${unit}`, [line(sides[0], 'lead', 'solid'), line(sides[1], roleName(passes.role), 'dashed')]);
  });
  const lines = [
    lineOf('near plane', 'dashed', px.map(({ frame, nearPx }) => ({ frame, value: nearPx })), span),
    lineOf('far plane', 'dotted', px.map(({ frame, farPx }) => ({ frame, value: farPx })), span),
    lineOf('parallax', 'solid', px.map(({ frame, parallaxPx }) => ({ frame, value: parallaxPx })), span),
  ];
  const { worstFrame, worstPx } = comparison.synced.parallax;
  const frame = Math.floor(worstFrame / each);
  return plotOf(passes, 'move, as the sync lays it', span, [
    ...channels,
    costPanel('difference, px', lines, { value: limits.parallaxPx.warn, label: `limit of parallax ${numberWords(limits.parallaxPx.warn, 2)} px` }, { frame, value: worstPx, label: `frame ${frame}: ${numberWords(worstPx, 2)} px of parallax` }),
  ]);
}

/** The px at each mark, where the lead reaches it; undefined when no mark has both a time and px. Nothing is drawn between marks: nothing is known there. */
export function markPlot({ comparison, passes, limits, leadTimes }: Noted): CurvePlot | undefined {
  const { rate, frames } = passes.lead;
  if (rate === undefined || frames === undefined) return undefined;
  const timed = comparison.marks.flatMap((mark) => {
    const seconds = leadTimes.get(mark.name);
    return seconds === undefined || mark.px === undefined ? [] : [{ frame: Math.round(seconds * rateAsNumber(rate)), name: mark.name, ...mark.px }];
  });
  if (timed.length === 0) return undefined;
  const span = { start: Math.min(0, ...timed.map(({ frame }) => frame)), end: Math.max(frames, ...timed.map(({ frame }) => frame + 1)) };
  const dots = (name: string, look: CurveLine['look'], valueOf: (mark: (typeof timed)[number]) => number | undefined): CurveLine => ({
    name, look, parts: timed.flatMap((mark) => { const value = valueOf(mark); return value === undefined ? [] : [[{ frame: mark.frame, value }]]; }),
  });
  const lines = [dots('near plane', 'ring', ({ nearPx }) => nearPx), dots('far plane', 'cross', ({ farPx }) => farPx), dots('parallax', 'disc', ({ parallaxPx }) => parallaxPx)].filter(({ parts }) => parts.length > 0);
  const worst = timed.find(({ name }) => name === comparison.worst);
  const value = worst?.parallaxPx ?? worst?.nearPx;
  return plotOf(passes, 'marks of the move', span, [
    costPanel('difference at the marks, px', lines, { value: limits.parallaxPx.warn, label: `limit of parallax ${numberWords(limits.parallaxPx.warn, 2)} px` },
      worst === undefined || value === undefined ? undefined : { frame: worst.frame, value, label: `"${worst.name}": ${numberWords(value, 2)} px${worst.parallaxPx === undefined ? '' : ' of parallax'}` }),
  ]);
}

function plotOf(passes: MatchedPasses, what: string, span: FrameRange, panels: readonly CurvePanel[]): CurvePlot {
  const { lead, pass, role } = passes;
  return { title: `${shortName(pass)} (${roleName(role)}) beside ${shortName(lead)}: ${what}`, span, ticks: ticksOf(span, lead), panels };
}

function panelOf(label: string, lines: readonly CurveLine[]): CurvePanel {
  const values = lines.flatMap(valuesOf);
  const ranges = lines.map((line) => `${line.name} ${rangeText(valuesOf(line))}`);
  return { label, ...axisFor(values, 0.05), lines, words: `${label}: ${ranges.join('; ')}` };
}

function costPanel(label: string, lines: readonly CurveLine[], limit: NonNullable<CurvePanel['limit']>, worst: CurvePanel['worst']): CurvePanel {
  const values = lines.flatMap(valuesOf);
  const most = values.reduce((high, value) => Math.max(high, value), 0);
  // A limit far above everything would press the curves flat; its label then says where it is.
  const shown = most * 8 >= limit.value ? [limit.value] : [];
  const words = [`${label}: ${lines.map((line) => `${line.name} ${rangeText(valuesOf(line))}`).join('; ')}`, limit.label, ...(worst === undefined ? [] : [`worst at ${worst.label}`])];
  return { label, ...axisFor([0, ...values, ...shown]), lines, limit, ...(worst === undefined ? {} : { worst }), words: words.join('; ') };
}

function valuesOf({ parts }: CurveLine): readonly number[] {
  return parts.flatMap((part) => part.map(({ value }) => value));
}

function rangeText(values: readonly number[]): string {
  const [least, most] = values.reduce(([low, high], value) => [Math.min(low, value), Math.max(high, value)], [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]);
  return most < least ? 'nothing' : `from ${numberWords(least, 2)} to ${numberWords(most, 2)}`;
}

function lineOf(name: string, look: CurveLine['look'], dots: readonly CurveDot[], span: FrameRange): CurveLine {
  const shown = dots.filter(({ value }) => Number.isFinite(value));
  return { name, look, parts: partsOf(shown, span, LONGEST_GAP_FRAMES) };
}

function spanOf(points: readonly { readonly frame: number }[]): FrameRange {
  const [first, last] = [points[0]?.frame ?? 0, points.at(-1)?.frame ?? 0];
  return { start: Math.floor(first), end: Math.floor(last) + 1 };
}

type Placed = { readonly frame: number; readonly sample: TrackedSample };

/** The samples of a move in frames of the lead. */
function samplesOf(move: RecordedMove, clip: MatchedPasses['lead'], offset: number, each: number): readonly Placed[] {
  const laid = layMove(move, clip);
  return laid.kind === 'not-laid' ? [] : move.samples.map((sample) => ({ frame: (sample.frame - laid.start) / each - offset, sample }));
}

const CHANNELS: Readonly<Record<Channel, readonly [what: string, unit: string, valueOf: (sample: TrackedSample) => number]>> = {
  side: ['place to the right on the stage', 'mm', ({ xMm }) => xMm],
  height: ['height', 'mm', ({ yMm }) => -yMm + 0],
  depth: ['place ahead on the stage', 'mm', ({ zMm }) => zMm],
  pan: ['pan', '°', (sample) => aimOf(matrixOf(sample)).panDeg],
  tilt: ['tilt', '°', (sample) => aimOf(matrixOf(sample)).tiltDeg],
  roll: ['roll', '°', (sample) => aimOf(matrixOf(sample)).rollDeg],
  zoom: ['focal length', 'mm', ({ focalLengthMm = Number.NaN }) => focalLengthMm],
};

/** One degree of pan moves the picture about as much as 35 mm to the side, 2 m away: enough to choose what is shown. */
const MM_FOR_A_DEGREE = 35;

function busiest(samples: readonly Placed[]): Channel {
  const travel = (channel: Channel): number => {
    const [, unit, valueOf] = CHANNELS[channel];
    const values = unwrapped(samples.map(({ frame, sample }) => ({ frame, value: valueOf(sample) })), unit).map(({ value }) => value);
    const [least, most] = values.reduce(([low, high], value) => [Math.min(low, value), Math.max(high, value)], [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]);
    return (most - least) * (unit === '°' ? MM_FOR_A_DEGREE : 1);
  };
  const channels = ['side', 'height', 'depth', 'pan', 'tilt'] as const;
  return channels.reduce<Channel>((best, channel) => (travel(channel) > travel(best) * (1 + 1e-9) ? channel : best), 'side');
}

/** Angles that go through ±180° go on instead of jumping. */
function unwrapped(dots: readonly CurveDot[], unit: string): readonly CurveDot[] {
  if (unit !== '°') return dots;
  let before: number | undefined;
  return dots.map(({ frame, value }) => {
    const near = before === undefined ? value : value - 360 * Math.round((value - before) / 360);
    before = near;
    return { frame, value: near };
  });
}
