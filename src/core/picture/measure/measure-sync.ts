import type { CameraMotion } from '../motion/classify.ts';
import { syncByMotion } from '../sync/sync-by-motion.ts';
import type { MotionTrack } from '../sync/correlate-motion.ts';
import { syncBySound } from '../sync/sync-by-sound.ts';
import type { SyncAnswer } from '../sync/sync-found.ts';
import { cannotTell } from '../sync/sync-found.ts';
import type { ClipFrames } from './clip-frames.ts';
import type { MatchTask } from './match-task.ts';

/** Lags are looked for this far from an offset that something already tells. */
const WINDOW_S = 4;

/** What guide sound and camera motion say of the offset. */
export function syncOf({ lead, rate, offset, offsetIsGuess }: MatchTask, pass: ClipFrames): readonly [sound: SyncAnswer, motion: SyncAnswer] {
  if (rate === undefined) return [cannotTell('the passes do not run at one known rate'), cannotTell('the passes do not run at one known rate')];
  const near = offsetIsGuess ? {} : { expectedOffset: offset };
  const sound = lead.sound === undefined || pass.sound === undefined ? cannotTell('a pass has no guide track') : syncBySound(lead.sound, pass.sound, { rate, ...near, ...(offsetIsGuess ? {} : { windowS: WINDOW_S }) });
  return [sound, motionSync(lead, pass, { ...near, ...(offsetIsGuess ? {} : { windowFrames: Math.round((WINDOW_S * rate.num) / rate.den) }) })];
}

/** The offset the pictures are held against each other at: the surest of sound and motion, where only a guess tells. */
export function offsetToTry({ offset, offsetIsGuess }: MatchTask, sound: SyncAnswer, motion: SyncAnswer): number {
  if (!offsetIsGuess) return offset;
  if (sound.kind === 'measured') return sound.offset;
  return motion.kind === 'measured' ? motion.offset : offset;
}

function motionSync(lead: ClipFrames, pass: ClipFrames, options: { readonly expectedOffset?: number; readonly windowFrames?: number }): SyncAnswer {
  const [first, second] = [trackOf(lead), trackOf(pass)];
  return first === undefined || second === undefined ? cannotTell('the camera stands still, or was not followed through every frame') : syncByMotion(first, second, options);
}

function trackOf({ motion, everyFrames }: ClipFrames): MotionTrack | undefined {
  if (everyFrames !== 1 || !moves(motion) || motion.steps.some(({ step }) => step === undefined)) return undefined;
  return { dx: motion.steps.map(({ step }) => step?.dx ?? 0), dy: motion.steps.map(({ step }) => step?.dy ?? 0) };
}

function moves(motion: CameraMotion): boolean {
  return motion.kind === 'moving' || motion.kind === 'vibrating';
}
