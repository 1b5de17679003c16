import type { Blob } from './runs.ts';

/** Patches of the picture in which each pass differs from the empty set in one frame, largest first. */
export interface FrameFigures {
  readonly lead: readonly Blob[];
  readonly swapped: readonly Blob[];
}

/** The columns a line may take in one frame, both included. First above last: none, and `why` says it. */
export interface SideLimits {
  readonly first: number;
  readonly last: number;
  readonly why: '' | 'contact' | 'missing';
}

/** Least patch that can be a performer, as a share of the picture: 150 of 320 x 180 pixels. */
export const LEAST_FIGURE_SHARE = 0.0026;

/** A pass in which fewer frames than this show two people was shot without a double. */
const DOUBLE_SHARE = 0.05;

/** A figure that ends within this share of the width from the frame's edge may have walked out of it. */
const EDGE_SHARE = 0.02;

/**
 * Between whom the line must run: right of the left figure's middle and left of the right figure's, in both passes, so that
 * each side keeps its own performer. A frame in which two who were apart are one patch has no such place. Undefined when no
 * frame of either pass shows two figures apart. Only against a clean plate (`sure`) is one figure alone believed: in the median
 * of the passes, who stands still may be part of the set.
 */
export function sideLimits(frames: readonly FrameFigures[], width: number, sure: boolean): readonly SideLimits[] | undefined {
  const people = frames.map(({ lead, swapped }) => ({ lead: twoFigures(lead), swapped: twoFigures(swapped) }));
  const passes = (['lead', 'swapped'] as const).map((name) => followPass(people.map((frame) => frame[name]), width, sure));
  const anyApart = people.some(({ lead, swapped }) => lead.length === 2 || swapped.length === 2 || (sure && areApart([...lead, ...swapped])));
  if (!anyApart) return undefined;
  const known = people.map(({ lead, swapped }, t) => limitsOf([lead, swapped], passes.map((pass) => pass[t] ?? ''), width));
  return placeLoneFigures(known, people, width);
}

/** The two largest figures, left one first. Fragments above or below the largest belong to it. */
function twoFigures(blobs: readonly Blob[]): readonly Blob[] {
  const [largest] = blobs;
  if (largest === undefined) return [];
  const core = (largest.right - largest.left) / 4;
  const second = blobs.find((blob) => blob !== largest && Math.abs(blob.middle - largest.middle) > core && !(blob.left >= largest.left && blob.right <= largest.right));
  return second === undefined ? [largest] : [largest, second].toSorted((a, b) => a.middle - b.middle);
}

function areApart(figures: readonly Blob[]): boolean {
  const [a, b] = figures.toSorted((x, y) => x.middle - y.middle);
  return figures.length === 2 && a !== undefined && b !== undefined && a.right < b.left;
}

type Presence = '' | 'contact' | 'left the frame';

/** For each frame of a pass, why it shows fewer than two figures; '' where it shows both, none, or was shot without a double. */
function followPass(figures: readonly (readonly Blob[])[], width: number, sure: boolean): readonly Presence[] {
  const apart = figures.flatMap((blobs, t) => (blobs.length === 2 ? [t] : []));
  if (apart.length < DOUBLE_SHARE * figures.length) return figures.map((blobs) => (sure || blobs.length !== 1 ? '' : 'contact'));
  let next = 0;
  return figures.map((blobs, t) => {
    const [blob] = blobs;
    if (blob === undefined || blobs.length === 2) return '';
    while (next < apart.length && (apart[next] ?? 0) < t) next++;
    const nearest = [apart[next - 1], apart[next]].filter((at) => at !== undefined).toSorted((a, b) => Math.abs(a - t) - Math.abs(b - t))[0];
    const gone = figures[nearest ?? 0]?.toSorted((a, b) => Math.abs(b.middle - blob.middle) - Math.abs(a.middle - blob.middle))[0];
    const edge = EDGE_SHARE * width;
    return gone !== undefined && (gone.left <= edge || gone.right >= width - 1 - edge) ? 'left the frame' : 'contact';
  });
}

/** Undefined for a frame whose only figures stand on one side, which its neighbours must name. */
function limitsOf(passes: readonly (readonly Blob[])[], presence: readonly Presence[], width: number): SideLimits | undefined {
  if (presence.includes('contact')) return { first: width, last: -1, why: 'contact' };
  const figures = passes.flat();
  if (figures.length === 0) return { first: 0, last: width - 1, why: '' };
  const pair = passes.find((blobs) => blobs.length === 2) ?? (areApart(figures) ? figures.toSorted((a, b) => a.middle - b.middle) : undefined);
  const [left, right] = pair ?? [];
  if (left === undefined || right === undefined) return undefined;
  const isLeft = (blob: Blob): boolean => Math.abs(blob.middle - left.middle) <= Math.abs(blob.middle - right.middle);
  const sided = passes.flatMap((blobs) => (blobs.length === 2 ? blobs.map((blob, i) => ({ blob, left: i === 0 })) : blobs.map((blob) => ({ blob, left: isLeft(blob) }))));
  const first = Math.ceil(Math.max(...sided.filter((one) => one.left).map(({ blob }) => blob.middle)));
  const last = Math.floor(Math.min(...sided.filter((one) => !one.left).map(({ blob }) => blob.middle)));
  return first <= last ? { first, last, why: '' } : { first: width, last: -1, why: 'contact' };
}

/** A figure alone in the frame is on the side where the nearest frame that shows both has it. */
function placeLoneFigures(known: readonly (SideLimits | undefined)[], people: readonly FrameFigures[], width: number): readonly SideLimits[] {
  const both = known.flatMap((limits, t) => (limits !== undefined && limits.why === '' && limits.last - limits.first < width - 1 ? [{ t, middle: (limits.first + limits.last) / 2 }] : []));
  return known.map((limits, t) => {
    if (limits !== undefined) return limits;
    const nearest = both.toSorted((a, b) => Math.abs(a.t - t) - Math.abs(b.t - t))[0];
    if (nearest === undefined) return { first: width, last: -1, why: 'missing' };
    const middles = [...(people[t]?.lead ?? []), ...(people[t]?.swapped ?? [])].map(({ middle }) => middle);
    const isLeft = Math.max(...middles) < nearest.middle;
    return isLeft ? { first: Math.ceil(Math.max(...middles)), last: width - 1, why: '' } : { first: 0, last: Math.floor(Math.min(...middles)), why: '' };
  });
}
