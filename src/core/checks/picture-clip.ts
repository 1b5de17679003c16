import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import type { Method } from '../material/method.ts';
import type { Tolerances } from '../material/tolerance.ts';
import { scaledTo } from '../material/tolerance.ts';
import type { ClipMotion, ClipPicture, MatchPicture } from '../picture/measure/match-picture.ts';
import type { FrameFaults } from '../picture/stream/judge-frames.ts';
import { byPx } from './cost.ts';
import { countFrames, framesText } from './picture-frames.ts';
import { raise } from './raise.ts';
import { atMost, severityBeyond } from './severity.ts';

/** What one clip shows by itself: frozen and black frames, and a camera that moved where it should stand. */
export function checkClipPicture(clip: Clip, { frames, motion }: ClipPicture, picture: MatchPicture, method: Method, tolerances: Tolerances): readonly Finding[] {
  const still = method.movingCamera || motion.kind !== 'measured' ? [] : checkMotion(clip, motion, picture, tolerances);
  return [...checkFrozen(clip, frames), ...checkBlack(clip, frames), ...still];
}

/** Only what is certain: a drawn or still picture repeats itself by nature, and so do codecs that store differences. */
function checkFrozen(clip: Clip, { frozen, repeatsAre, frames }: FrameFaults): readonly Finding[] {
  const count = countFrames(frozen);
  if (frozen.length === 0 || repeatsAre !== 'certain' || count > frames / 2) return [];
  return [raise({ code: 'frozen-frames', severity: 'warn', subject: [clip], clip, frames: framesText(frozen), whole: false, measured: { value: count, unit: 'frames' }, allowed: { value: 0, unit: 'frames' }, evidence: [`${frames} frames looked at`] })];
}

/** Black without grain; a dark scene is none of our business. */
export function checkBlack(clip: Clip, { blank, frames }: FrameFaults): readonly Finding[] {
  const count = countFrames(blank);
  if (count === 0) return [];
  const whole = count === frames;
  return [raise({ code: 'black-frames', severity: whole ? 'stop' : 'warn', subject: [clip], clip, frames: framesText(blank), whole, measured: { value: count, unit: 'frames' }, allowed: { value: 0, unit: 'frames' }, evidence: [`${frames} frames looked at`] })];
}

/** What a stabilisation undoes is mild as long as a shift between passes is. */
export function checkMotion(clip: Clip, motion: ClipMotion, { raster }: MatchPicture, tolerances: Tolerances): readonly Finding[] {
  const limit = scaledTo(raster.width, tolerances.shiftPx);
  const evidence = [`every ${motion.everyFrames === 1 ? '' : `${motion.everyFrames}. `}frame registered to the one before`];
  const moved = motion.is === 'moving' ? severityBeyond(motion.fromFirstPx, limit) : undefined;
  if (moved !== undefined) {
    const { measured, allowed } = byPx(moved, motion.fromFirstPx, limit.warn);
    return [raise({ code: 'camera-moved', severity: moved, subject: [clip], clip, motion, measured, allowed, evidence })];
  }
  const worst = motion.bumps.toSorted((a, b) => b.px - a.px || a.start - b.start)[0];
  const bumped = worst === undefined ? undefined : severityBeyond(worst.px, limit);
  if (worst === undefined || bumped === undefined) return [];
  const severity = atMost(bumped, 'warn');
  const { measured, allowed } = byPx(severity, worst.px, limit.warn);
  return [raise({ code: 'camera-moved', severity, subject: [clip], clip, motion, bump: { frames: framesText([worst]), px: worst.px }, measured, allowed, evidence })];
}
