import type { Sync } from '../material/plate-set.ts';

/** People who read a label off a screen, and a camera move, are out by one now and then. Common practice, no source. */
const AGREE_WITHIN_FRAMES = 1;
/** Evidence less sure than this contradicts nothing. */
const LEAST_TO_CONTRADICT = 0.5;
/** However much agrees, it is not certain. */
const SUREST = 0.99;

/**
 * One sync from all that tells of it, most trusted first: the first one's, surer by every other kind that agrees within a
 * frame, and half as sure when another kind says otherwise, which is then kept with it. Undefined when nothing tells.
 */
export function agreeOnSync(readings: readonly Sync[]): Sync | undefined {
  const [best, ...others] = readings;
  if (best === undefined) return undefined;
  const agrees = ({ offset }: Sync): boolean => Math.abs(offset - best.offset) <= AGREE_WITHIN_FRAMES;
  const allies = others.filter(agrees);
  const against = others.filter((reading) => !agrees(reading) && reading.confidence >= LEAST_TO_CONTRADICT);
  const doubt = [best, ...allies].reduce((left, { confidence }) => left * (1 - confidence), 1);
  const sure = allies.length === 0 ? best.confidence : Math.max(best.confidence, Math.min(SUREST, 1 - doubt));
  const words = [best.words, ...allies.map(({ method }) => `${spaced(method)} agrees`), ...against.map((reading) => contradictionText(reading))].join('; ');
  if (against.length === 0) return { ...best, confidence: sure, words };
  return { ...best, confidence: sure / 2, words, contradictedBy: against };
}

/** "guide audio says 12 frames". */
export function contradictionText({ method, offset }: Sync): string {
  return `${spaced(method)} says ${offset} frames`;
}

function spaced(method: string): string {
  return method.replaceAll('-', ' ');
}
