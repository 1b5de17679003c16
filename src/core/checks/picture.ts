import type { Clip } from '../material/clip.ts';
import type { Finding, Severity } from '../material/finding.ts';
import type { Method } from '../material/method.ts';
import type { Tolerances } from '../material/tolerance.ts';
import { scaledTo } from '../material/tolerance.ts';
import type { MatchPicture } from '../picture/measure/match-picture.ts';
import type { ClipOf } from './check-rules.ts';
import { byPx, byStops } from './cost.ts';
import { figure } from './evidence.ts';
import type { LeadPictures } from './lead-pictures.ts';
import { checkClipPicture } from './picture-clip.ts';
import { checkPlatePicture } from './picture-plate.ts';
import { checkScreenPicture } from './picture-screen.ts';
import { framesText } from './picture-frames.ts';
import { checkRegistration } from './picture-registration.ts';
import { raise } from './raise.ts';
import { isAbove, severityBeyond } from './severity.ts';

type Measured = Extract<LeadPictures, { kind: 'measured' }>;

/** What pictures are judged by. */
export interface PictureRules {
  readonly tolerances: Tolerances;
  readonly clipOf: ClipOf;
}

/** A join without a clean plate was looked for against a guessed set; a doubtful `no` asks a person to look. */
const SURE_OF_NO = 0.9;

/** What the pictures of a lead and its passes show to be wrong. What they cannot tell is no finding. */
export function checkPictures(pictures: LeadPictures | undefined, method: Method, rules: PictureRules): readonly Finding[] {
  if (pictures?.kind !== 'measured') return [];
  const { picture } = pictures;
  const [lead, pass, clean] = [pictures.lead, pictures.swapped, pictures.clean].map((id) => (id === undefined ? undefined : rules.clipOf(id)));
  if (lead === undefined) return [];
  return [
    ...checkClipPicture(lead, picture.lead, picture, method, rules.tolerances),
    ...(pass === undefined || picture.pass === undefined ? [] : [...checkClipPicture(pass, picture.pass, picture, method, rules.tolerances), ...checkPair(lead, pass, picture, method, rules.tolerances)]),
    ...(clean === undefined || picture.clean === undefined ? [] : checkPlatePicture(lead, clean, picture, method, rules.tolerances)),
    ...checkElements(pictures, method, rules),
  ];
}

function checkPair(lead: Clip, clip: Clip, picture: MatchPicture, method: Method, tolerances: Tolerances): readonly Finding[] {
  return [
    ...(picture.registration.kind === 'measured' ? checkRegistration(lead, clip, picture.registration, picture, tolerances) : []),
    ...checkParallax(lead, clip, picture, tolerances),
    ...checkLight(lead, clip, picture, tolerances),
    ...checkLine(lead, clip, picture, method),
  ];
}

/** Seen in tiles of the picture, good to about a fifth of a proxy pixel: enough to ask for a look, not to forbid a strike. */
function checkParallax(lead: Clip, clip: Clip, { parallax, registration, raster }: MatchPicture, tolerances: Tolerances): readonly Finding[] {
  if (parallax.kind !== 'measured' || !parallax.found || registration.kind !== 'measured') return [];
  const limit = scaledTo(raster.width, tolerances.parallaxPx);
  if (!isAbove(parallax.largestPx, limit.warn)) return [];
  const { measured, allowed } = byPx('warn', parallax.largestPx, limit.warn);
  const evidence = [`${parallax.tiles} parts of the picture registered by themselves`];
  return [raise({ code: 'misregistered', severity: 'warn', subject: [lead, clip], lead, clip, found: registration, parallaxPx: parallax.largestPx, measured, allowed, evidence })];
}

function checkLight(lead: Clip, clip: Clip, { exposure }: MatchPicture, { exposureStops }: Tolerances): readonly Finding[] {
  if (exposure.kind !== 'measured') return [];
  const { stops, redStops, blueStops } = exposure;
  const evidence = ['stops as a display curve near grey or linear light has them; on a log curve about twice as many'];
  const brightness = severityBeyond(Math.abs(stops), exposureStops);
  const balance = Math.max(Math.abs(redStops), Math.abs(blueStops));
  const colour = severityBeyond(balance, exposureStops);
  const shared = { subject: [lead, clip], lead, clip, evidence };
  return [
    ...(brightness === undefined ? [] : [raise({ code: 'exposure-differs', severity: brightness, stops, ...shared, ...figuresOf(brightness, stops, exposureStops.warn) })]),
    ...(colour === undefined ? [] : [raise({ code: 'colour-differs', severity: colour, redStops, blueStops, ...shared, ...figuresOf(colour, balance, exposureStops.warn) })]),
  ];
}

function figuresOf(severity: Severity, stops: number, warn: number): Pick<ReturnType<typeof byStops>, 'measured' | 'allowed'> {
  const { measured, allowed } = byStops(severity, stops, warn);
  return { measured, allowed };
}

function checkLine(lead: Clip, clip: Clip, { split }: MatchPicture, method: Method): readonly Finding[] {
  if (split?.verdict !== 'no' || !joinsByLine(method)) return [];
  const bad = split.badFrames.map(([start, last]) => ({ start, end: last + 1 }));
  const count = bad.reduce((sum, { start, end }) => sum + end - start, 0);
  const severity: Severity = split.confidence >= SURE_OF_NO ? 'stop' : 'warn';
  const evidence = [`split line looked for in ${split.framesUsed} pairs of frames, confidence ${figure(split.confidence, 2)}`, ...split.reasons];
  return [raise({ code: 'no-split-line', severity, subject: [lead, clip], lead, clip, split, frames: framesText(bad), measured: { value: count, unit: 'frames' }, allowed: { value: 0, unit: 'frames' }, evidence })];
}

/** Whether a method joins the lead and the swapped pass along a line that can be looked for: the camera stands, and no element takes the pass's place. */
export function joinsByLine({ required, movingCamera, elementReplacesSwapped }: Method): boolean {
  return required.includes('swapped') && !movingCamera && !elementReplacesSwapped;
}

function checkElements({ elements, picture }: Measured, method: Method, { tolerances, clipOf }: PictureRules): readonly Finding[] {
  return elements.flatMap((id, index) => {
    const [clip, element] = [clipOf(id), picture.elements[index]];
    return clip === undefined || element === undefined ? [] : [...checkClipPicture(clip, element, picture, method, tolerances), ...checkScreenPicture(clip, element)];
  });
}

