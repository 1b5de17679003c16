import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import type { Method } from '../material/method.ts';
import type { Tolerances } from '../material/tolerance.ts';
import type { MatchPicture } from '../picture/measure/match-picture.ts';
import { checkBlack, checkMotion } from './picture-clip.ts';
import { framesText, spansOfFrames } from './picture-frames.ts';
import { checkRegistration } from './picture-registration.ts';
import { raise } from './raise.ts';

/** What a clean plate shows: somebody in it, a picture that lies elsewhere, a camera that moved. A plate that repeats itself is still a plate. */
export function checkPlatePicture(lead: Clip, clean: Clip, picture: MatchPicture, method: Method, tolerances: Tolerances): readonly Finding[] {
  const { plate, clean: shows } = picture;
  if (shows === undefined) return [];
  const still = method.movingCamera || shows.motion.kind !== 'measured' ? [] : checkMotion(clean, shows.motion, picture, tolerances);
  const alone = [...checkBlack(clean, shows.frames), ...still];
  if (plate.kind !== 'measured') return alone;
  const [object] = plate.differences.filter(({ kind }) => kind === 'object');
  const told = { severity: 'warn', subject: [clean], clip: clean, allowed: { value: 0, unit: 'px' } } as const;
  const evidence = [`held against what stands behind the performers in both passes; ${Math.round(100 * plate.blindShare)} % of the frame cannot be seen there`];
  return [
    ...alone,
    ...checkRegistration(lead, clean, plate.registration, picture, tolerances),
    ...(object === undefined ? [] : [raise({ code: 'person-in-clean-plate', ...told, difference: object, frames: '', measured: { value: object.height, unit: 'px' }, evidence })]),
    ...(plate.activeFrames.length === 0 ? [] : [raise({ code: 'person-in-clean-plate', ...told, frames: framesText(spansOfFrames(plate.activeFrames)), measured: { value: plate.activeFrames.length, unit: 'frames' }, allowed: { value: 0, unit: 'frames' }, evidence: ['twelve frames of the plate held against their middle'] })]),
  ];
}
