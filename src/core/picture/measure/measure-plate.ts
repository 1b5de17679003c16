import type { LumaFrame } from '../frame.ts';
import { boxInPlatePx, checkPlate } from '../plate/check-plate.ts';
import { registerPasses } from '../registration/register-passes.ts';
import { bringInLight } from '../split/light.ts';
import { sampleOf } from '../split/study-split.ts';
import type { ClipFrames } from './clip-frames.ts';
import type { MatchTask } from './match-task.ts';
import type { Laid } from './measure-registration.ts';
import { inPlate, layBy, layMatched } from './measure-registration.ts';
import type { PlateAnswer, Told } from './match-picture.ts';
import { untold } from './match-picture.ts';

const FRAMES = 12;
const PAIRS = 2;
/** Nobody is in so many places at once. */
const MOST_PLACES = 12;

/** The clean plate against the passes, and its frames laid on the lead for whoever needs the empty set. */
export function measurePlate({ lead }: MatchTask, pass: ClipFrames, clean: ClipFrames, laid: Laid, noise: number): { readonly answer: Told<PlateAnswer>; readonly frames: readonly LumaFrame[] | undefined } {
  const numbers = sampleOf(clean.numbers, FRAMES);
  const onLead = registerPasses(sampleOf(lead.numbers, PAIRS).map(lead.frame), spread(numbers, Math.min(PAIRS, lead.numbers.length)).map(clean.frame), noise);
  if (onLead.kind === 'cannot-tell') return { answer: untold(`the clean plate does not lie on the lead: ${onLead.why}`), frames: undefined };
  const frames = numbers.map((number) => layBy(clean.frame(number), onLead));
  const { found } = laid;
  if (found === undefined) return { answer: untold('the passes could not be registered, so what stands behind the performers is not known'), frames };
  if (found.confidence === 'low') return { answer: untold('too much of the frame differs between the passes'), frames };
  const leads = sampleOf(lead.numbers, FRAMES).map(lead.frame);
  const passes = sampleOf(pass.numbers, FRAMES).map((number) => inLightOf(layMatched(pass.frame(number), laid), found));
  const checked = checkPlate(leads, passes, frames, noise);
  if (checked.kind === 'cannot-tell') return { answer: untold(checked.why), frames };
  if (checked.differences.length > MOST_PLACES) return { answer: untold(`it differs from the passes in ${checked.differences.length} places: a codec, leaves or water, not somebody`), frames };
  const answer: Told<PlateAnswer> = {
    kind: 'measured',
    registration: inPlate(onLead, lead),
    differences: checked.differences.map((difference) => boxInPlatePx(difference, lead.proxy, lead.raster)),
    activeFrames: checked.activity.frames.flatMap((index) => numbers.slice(index, index + 1)),
    activePlaces: checked.activity.places.length,
    blindShare: checked.blindShare,
  };
  return { answer, frames };
}

/** The pass as if lit and exposed like the lead, in place: otherwise their backgrounds would agree nowhere. */
function inLightOf(frame: LumaFrame, { gain, offset }: NonNullable<Laid['found']>): LumaFrame {
  if (gain > 0) bringInLight(frame.values, { gain: 1 / gain, offset: -offset / gain });
  return frame;
}

/** As many of a list as asked for, the same one several times where there are fewer. */
function spread(numbers: readonly number[], count: number): readonly number[] {
  const some = sampleOf(numbers, count);
  return Array.from({ length: count }, (_, index) => some[Math.min(index, some.length - 1)] ?? 0);
}
