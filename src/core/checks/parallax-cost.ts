import type { CameraState } from '../optics/camera-state.ts';
import type { DifferenceCost } from '../optics/difference-cost.ts';
import { differenceCost } from '../optics/difference-cost.ts';
import type { Part } from '../optics/parts.ts';
import { withValue } from '../optics/parts.ts';
import { clearBeyond } from '../optics/parallax.ts';
import type { Apart } from './along-take.ts';
import type { Cost, Decision } from './cost.ts';
import { assumed, byPx, plateText, pxText, toMeasure, untold, whyNoCost } from './cost.ts';
import { figure, metres } from './evidence.ts';
import type { PairOptics } from './pair-optics.ts';
import { compareSeverity, isAbove, severityBeyond } from './severity.ts';

/** How a difference of heights or distances, m, is a difference of cameras. */
interface Moved {
  readonly part: 'height' | 'forward';
  /** The pass's height above, or way ahead of, the lead, m. */
  readonly by: (apart: Apart) => number;
  /** How far the difference of two readings may lie from the truth, m. */
  readonly readTo: (apart: Apart) => number;
  /** The tolerance that stands in when the optics cannot tell. */
  readonly instead: string;
}

export const RAISED: Moved = { part: 'height', by: ({ lead, pass }) => pass - lead, readTo: tapeStepM, instead: 'height_mm' };
/** A wall that is nearer means a camera that stands ahead. */
export const AHEAD: Moved = { part: 'forward', by: ({ lead, pass }) => lead - pass, readTo: tapeErrorM, instead: 'distance_mm' };

/** A camera that stood elsewhere: near things shift against far ones, which no warp undoes. */
export function parallaxCost(moved: Moved, tiltReadToDeg: number): (optics: PairOptics, apart: Apart) => Cost {
  return (optics, apart) => {
    const { plate, planes, noPx, passes } = optics;
    if (plate === undefined || noPx !== '') return untold(noPx, moved.instead);
    const [lead, pass] = cameras(moved, optics, apart);
    const cost = differenceCost(lead, pass, plate.plate, planes, partsOf(moved, lead, pass, tiltReadToDeg));
    if (cost.kind !== 'cost') return untold(whyNoCost(cost), moved.instead);
    const words = wordsOf(cost, optics);
    const evidence = assumed([...cost.assumptions, ...(cost.needsSensor ? plate.assumptions : [])]);
    if (passes.role === 'element') return { words, evidence: [...evidence, `an element is placed by itself: ${moved.instead} decides`] };
    if (passes.method.movingCamera && !passes.method.repeatedMove) {
      return { words, evidence: [...evidence, `no hand repeats a move to the pixel: ${moved.instead} decides`] };
    }
    const decided = decide(cost, optics, sureShare(moved, apart));
    return decided === undefined ? { words, evidence: [...evidence, undecided(cost, moved)] } : { decided, words, evidence };
  };
}

/** The two cameras as they stood, apart from each other by what was measured. */
function cameras({ part, by }: Moved, optics: PairOptics, apart: Apart): readonly [CameraState, CameraState] {
  const { lead, pass } = optics.camerasAt(apart);
  const base = part === 'height' ? apart.lead : 0;
  return [withValue(part, lead, base), withValue(part, pass, base + by(apart))];
}

/** A camera that was raised and tilted back is counted with its tilt, when both tilts are on record and differ by more than they can be read. */
function partsOf({ part }: Moved, { tiltDeg: a }: CameraState, { tiltDeg: b }: CameraState, tiltReadToDeg: number): readonly Part[] {
  return part === 'height' && a !== undefined && b !== undefined && isAbove(Math.abs(b - a), tiltReadToDeg) ? ['height', 'tilt'] : [part];
}

/**
 * Parallax against its limit, and the shift that lays the far plane over the lead against its own. Undefined where only a bound is known and it is above
 * the limit.
 */
function decide({ parallax, removablePx }: DifferenceCost, { limits }: PairOptics, sure: number): Decision | undefined {
  const shift = byPx(severityBeyond(removablePx, limits.shiftPx), removablePx, limits.shiftPx.warn);
  if (parallax.kind === 'by-distance') return undefined;
  const { px } = parallax;
  if (parallax.kind === 'at-most' && isAbove(px, limits.parallaxPx.warn)) return undefined;
  const severity = isAbove(px * sure, limits.parallaxPx.stop) ? 'stop' : isAbove(px, limits.parallaxPx.warn) ? 'warn' : undefined;
  const stays = byPx(severity, px, limits.parallaxPx.warn);
  if (severity === undefined) return shift.severity === undefined ? stays : shift;
  return shift.severity !== undefined && compareSeverity(shift.severity, severity) < 0 ? shift : stays;
}

/** Parallax grows with the difference, so as much of it is certain as of the difference, 0..1. */
function sureShare({ readTo }: Moved, apart: Apart): number {
  return Math.max(0, 1 - readTo(apart) / Math.abs(apart.pass - apart.lead));
}

/** Steps in which a tape is read, mm: centimetres, inches, half inches, half centimetres, millimetres. */
const STEPS_MM = [10, 25.4, 12.7, 5, 1] as const;

/** 142 and 143 cm, both written to the centimetre, may be a millimetre apart or nearly two centimetres. */
function tapeStepM({ lead, pass }: Apart): number {
  const isOn = (stepMm: number) => (metresRead: number): boolean => Math.abs((metresRead * 1000) / stepMm - Math.round((metresRead * 1000) / stepMm)) < 1e-6;
  return (STEPS_MM.find((stepMm) => [lead, pass].every(isOn(stepMm))) ?? 0) / 1000;
}

/** A tape over some metres is good to a hundredth of them: common practice, no source. */
function tapeErrorM(apart: Apart): number {
  return Math.max(tapeStepM(apart), 0.01 * Math.max(apart.lead, apart.pass));
}

function wordsOf({ parallax, removablePx, filmed }: DifferenceCost, optics: PairOptics): string {
  const { planes, limits } = optics;
  const measure = toMeasure(parallax.missing);
  const more = measure === '' ? '' : ` To know more, ${measure}.`;
  if (parallax.kind === 'by-distance') {
    const clear = metres(figure(clearBeyond(parallax.pxMetres, limits.parallaxPx.warn), 1));
    return `A thing 5 m away shifts by ${pxText(parallax.pxMetres / 5)} of ${plateText(optics)} against what lies far behind it, and no warp can undo that; beyond ${clear} it stays under ${pxText(limits.parallaxPx.warn)}.${more}`;
  }
  if (parallax.kind === 'none' || planes.nearM === planes.farM) {
    return `That is ${pxText(filmed.worstPx)} of ${plateText(optics)}${planes.nearM === undefined ? '' : ` at ${metres(planes.nearM)}`}; a warp can undo it (a shift).`;
  }
  const near = metres(planes.nearM ?? 0);
  const whole = parallax.kind === 'exact' ? 'shifts by' : 'shifts by at most';
  const far = planes.farM === undefined ? 'what lies behind it, however far' : `what is ${metres(planes.farM)} away`;
  const laid = removablePx >= 0.05 ? `; a warp can undo only the ${pxText(removablePx)} of what is far` : '';
  return `What is ${near} away ${whole} ${pxText(parallax.px)} of ${plateText(optics)} against ${far}: that is parallax, and no warp can undo it${laid}.${more}`;
}

function undecided({ parallax }: DifferenceCost, { instead }: Moved): string {
  return `parallax is known only as a bound, for want of the ${parallax.missing.join(' and the ')}: ${instead} decides`;
}
