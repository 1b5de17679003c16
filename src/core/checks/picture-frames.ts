import type { FrameSpan } from '../picture/stream/judge-frames.ts';

/** How many spans a sentence bears. */
const NAMED = 4;

/** "frames 12 to 20 and 31", counted from 0, ends included; "no frame" for none. */
export function framesText(spans: readonly FrameSpan[]): string {
  if (spans.length === 0) return 'no frame';
  const words = spans.slice(0, NAMED).map(({ start, end }) => (end - start === 1 ? `${start}` : `${start} to ${end - 1}`));
  const more = spans.length > NAMED ? [`${spans.length - NAMED} more places`] : [];
  const all = [...words, ...more];
  const single = spans.length === 1 && spans[0] !== undefined && spans[0].end - spans[0].start === 1;
  return `${single ? 'frame' : 'frames'} ${all.length === 1 ? all.join('') : `${all.slice(0, -1).join(', ')} and ${all.at(-1) ?? ''}`}`;
}

/** Frame numbers as runs, ascending. */
export function spansOfFrames(frames: readonly number[]): readonly FrameSpan[] {
  const spans: FrameSpan[] = [];
  for (const frame of frames) {
    const open = spans.at(-1);
    if (open?.end === frame) spans[spans.length - 1] = { start: open.start, end: frame + 1 };
    else spans.push({ start: frame, end: frame + 1 });
  }
  return spans;
}

/** Frames in spans. */
export function countFrames(spans: readonly FrameSpan[]): number {
  return spans.reduce((sum, { start, end }) => sum + end - start, 0);
}
