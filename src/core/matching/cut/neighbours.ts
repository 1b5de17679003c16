import type { FrameRange } from '../../timecode/range.ts';
import { lengthOf, overlap } from '../../timecode/range.ts';

/** Something that lies on a line of frames. */
interface Lying {
  readonly event: { readonly record: FrameRange };
}

/** Finds what shares a frame with a range, in the order given. Sorted once, so that a whole film costs little more than its length. */
export function neighbourFinder<T extends Lying>(things: readonly T[]): (record: FrameRange) => readonly T[] {
  const sorted = things.map((thing, place) => ({ thing, place })).toSorted((a, b) => startOf(a.thing) - startOf(b.thing));
  const longest = things.reduce((most, { event }) => Math.max(most, lengthOf(event.record)), 0);
  return (record) => {
    const near: typeof sorted = [];
    for (let at = firstFrom(sorted, record.start - longest); at < sorted.length; at += 1) {
      const one = sorted[at];
      if (one === undefined || startOf(one.thing) >= record.end) break;
      if (overlap(one.thing.event.record, record) !== undefined) near.push(one);
    }
    return near.toSorted((a, b) => a.place - b.place).map(({ thing }) => thing);
  };
}

function startOf({ event }: Lying): number {
  return event.record.start;
}

/** Index of the first that starts at a frame or later. */
function firstFrom(sorted: readonly { readonly thing: Lying }[], frame: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    const one = sorted[middle];
    if (one !== undefined && startOf(one.thing) < frame) low = middle + 1;
    else high = middle;
  }
  return low;
}
