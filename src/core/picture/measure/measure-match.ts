import type { ColourAnswer } from '../exposure/match-exposure.ts';
import { compareGrain, temporalNoise } from '../noise/noise.ts';
import type { LumaFrame } from '../frame.ts';
import { checkScreen } from '../screen/check-screen.ts';
import type { SplitLine } from '../split/split-line.ts';
import { scaleSplit } from '../split/split-line.ts';
import type { SyncAnswer } from '../sync/sync-found.ts';
import { cannotTell } from '../sync/sync-found.ts';
import type { ClipFrames } from './clip-frames.ts';
import { clipPictureOf } from './clip-picture.ts';
import { exposureOf } from './measure-exposure.ts';
import { measurePlate } from './measure-plate.ts';
import type { MatchTask } from './match-task.ts';
import type { Laid } from './measure-registration.ts';
import { layMatched, parallaxOf, registerMatch } from './measure-registration.ts';
import { noLine, studyMatch } from './measure-split.ts';
import { offsetToTry, syncOf } from './measure-sync.ts';
import type { ElementPicture, MatchPicture } from './match-picture.ts';
import { untold } from './match-picture.ts';

/** What was measured, and what a picture of it needs. */
export interface MeasuredMatch {
  readonly picture: MatchPicture;
  /** The middle pair of frames, the swapped one laid on the lead, and the line in px of the proxy. */
  readonly shown?: { readonly frame: number; readonly lead: LumaFrame; readonly pass: LumaFrame; readonly split: SplitLine | undefined };
}

/** Measures a match, in the order in which one answer rests on another. Never throws for what the pictures show. */
export function measureMatch(task: MatchTask): MeasuredMatch {
  const { lead, pass, clean } = task;
  const alone = {
    raster: lead.raster, proxy: lead.proxy, lead: clipPictureOf(lead, lead),
    ...(pass === undefined ? {} : { pass: clipPictureOf(pass, lead) }),
    ...(clean === undefined ? {} : { clean: clipPictureOf(clean, lead) }),
    elements: task.elements.map((element) => ({ ...clipPictureOf(element, lead), screen: screenOf(element, clean) })),
  };
  const shape = pass === undefined ? 'there is no swapped pass' : unlikeShape(lead, pass);
  if (pass === undefined || shape !== undefined) return { picture: { ...alone, ...nothing(shape ?? '', task) } };
  const [sound, cameraMotion] = syncOf(task, pass);
  const offset = offsetToTry(task, sound, cameraMotion);
  const noise = noiseOf(lead);
  const laid = registerMatch({ ...task, offset }, pass, noise?.sigma ?? 0);
  const plate = plateTold(task, pass, laid, noise?.sigma ?? 0);
  const split = task.wantsLine ? studyMatch({ ...task, offset }, pass, laid, plate.frames) : undefined;
  const picture: MatchPicture = {
    ...alone, offset, sound, cameraMotion,
    registration: laid.registration,
    parallax: parallaxOf(lead, pass, laid),
    exposure: exposureOf(lead, pass, laid),
    grain: grainOf(noise, pass),
    plate: plate.answer,
    ...(split === undefined ? {} : { split: scaleSplit(split, lead.raster) }),
  };
  const shown = shownPair(lead, pass, laid, split);
  return shown === undefined ? { picture } : { picture, shown };
}

/** Why two clips cannot be laid over each other, when their frames have unlike shapes. */
function unlikeShape(lead: ClipFrames, pass: ClipFrames): string | undefined {
  const same = lead.proxy.width === pass.proxy.width && lead.proxy.height === pass.proxy.height;
  const text = ({ raster }: ClipFrames): string => `${raster.width} x ${raster.height}`;
  if (!same) return `the frames have unlike shapes (${text(lead)} and ${text(pass)})`;
  return lead.numbers.length === 0 || pass.numbers.length === 0 ? 'no frame could be decoded' : undefined;
}

function plateTold(task: MatchTask, pass: ClipFrames, laid: Laid, noise: number): ReturnType<typeof measurePlate> {
  const { clean, lead } = task;
  if (clean === undefined) return { answer: untold('there is no clean plate'), frames: undefined };
  const shape = unlikeShape(lead, clean);
  if (shape !== undefined) return { answer: untold(shape), frames: undefined };
  if (task.movingCamera) return { answer: untold('the camera moves: its clean plate is not held against single frames'), frames: undefined };
  return measurePlate(task, pass, clean, laid, noise);
}

function noiseOf(clip: ClipFrames): ReturnType<typeof temporalNoise> {
  const from = Math.floor(clip.numbers.length / 2) - 4;
  return temporalNoise(clip.numbers.slice(Math.max(0, from), Math.max(0, from) + 8).map(clip.frame));
}

function grainOf(noise: ReturnType<typeof temporalNoise>, pass: ClipFrames): MatchPicture['grain'] {
  const other = noise === undefined ? undefined : noiseOf(pass);
  const compared = noise === undefined || other === undefined ? undefined : compareGrain(noise, other);
  if (noise === undefined || other === undefined || compared === undefined) return untold('too few frames, or a codec that holds frames still');
  return { kind: 'measured', ...compared, lead: noise.sigma, pass: other.sigma };
}

function screenOf(element: ClipFrames, clean: ClipFrames | undefined): ElementPicture['screen'] {
  const frame = [...element.colour.values()][element.colour.size >> 1];
  if (frame === undefined) return untold('no frame in colour');
  const own = [...(clean?.colour.values() ?? [])].find(({ width, height }) => width === frame.width && height === frame.height);
  const options = { encoding: element.encoding, ...(own === undefined ? {} : { clean: own }) };
  const green = checkScreen(frame, { ...options, screen: 'green' });
  const answer = green.kind === 'measured' ? green : checkScreen(frame, { ...options, screen: 'blue' });
  return answer.kind === 'measured' ? answer : untold('no green and no blue screen takes up 2 % of the frame');
}

/** All that is not told of passes that cannot be laid over each other. */
function nothing(why: string, { offset, wantsLine, lead }: MatchTask): Pick<MatchPicture, 'offset' | 'registration' | 'parallax' | 'exposure' | 'grain' | 'plate' | 'split' | 'sound' | 'cameraMotion'> {
  const no: ColourAnswer & SyncAnswer = { kind: 'cannot-tell', why };
  return { offset, registration: no, parallax: no, exposure: no, grain: no, plate: no, ...(wantsLine ? { split: noLine(why, lead) } : {}), sound: cannotTell(why), cameraMotion: cannotTell(why) };
}

function shownPair(lead: ClipFrames, pass: ClipFrames, laid: Laid, split: SplitLine | undefined): MeasuredMatch['shown'] {
  const middle = laid.pairs[laid.pairs.length >> 1];
  if (middle === undefined) return undefined;
  return { frame: middle.lead, lead: lead.frame(middle.lead), pass: layMatched(pass.frame(middle.pass), laid), split };
}
