import type { ChannelExposure, ColourAnswer } from '../../core/picture/exposure/match-exposure.ts';
import type { ClipPicture, ElementPicture, MatchPicture, PlateAnswer, PlateRegistration, Told } from '../../core/picture/measure/match-picture.ts';
import type { LinePoint, SplitLine } from '../../core/picture/split/split-line.ts';
import type { FrameSpan } from '../../core/picture/stream/judge-frames.ts';
import type { SyncAnswer } from '../../core/picture/sync/sync-found.ts';
import { tidyNumber } from './order.ts';

/** What the pictures of a match say, as `report.json` holds it. px are of the lead's plate; frames count from 0, both ends included. */
export function pictureOf(picture: MatchPicture, standIns: readonly { readonly clip: string; readonly file: string }[]) {
  const { raster, proxy, offset } = picture;
  return {
    raster: { width: raster.width, height: raster.height },
    proxy: { width: proxy.width, height: proxy.height },
    offset: offset + 0,
    registration: toldOf(picture.registration, registrationOf),
    parallax: toldOf(picture.parallax, ({ largestPx, tiles, found }) => ({ largestPx: tidyNumber(largestPx), tiles, found })),
    exposure: exposureOf(picture.exposure),
    noise: toldOf(picture.grain, ({ lead, pass, ratio, differs }) => ({ lead: tidyNumber(lead), pass: tidyNumber(pass), ratio: tidyNumber(ratio), differs })),
    cleanPlate: toldOf(picture.plate, plateOf),
    split: picture.split === undefined ? null : splitOf(picture.split),
    sound: syncOf(picture.sound),
    cameraMotion: syncOf(picture.cameraMotion),
    lead: clipOf(picture.lead),
    swapped: picture.pass === undefined ? null : clipOf(picture.pass),
    clean: picture.clean === undefined ? null : clipOf(picture.clean),
    elements: picture.elements.map(elementOf),
    standIns: standIns.map(({ clip, file }) => ({ clip, file })),
  };
}

/** A split line as people and programs read it. `line` and the keys' lines are `[y, x]`; `badFrames` are lead frames. */
export function splitOf(split: SplitLine) {
  const { verdict, kind, corridor, margin, slip } = split;
  return {
    verdict,
    kind: kind ?? null,
    line: lineOf(split.line),
    keys: split.keys.map(({ frame, line }) => ({ frame, line: lineOf(line) })),
    corridor: corridor === undefined ? null : { left: tidyNumber(corridor.left), right: tidyNumber(corridor.right), narrowest: tidyNumber(corridor.narrowest), row: tidyNumber(corridor.row), frame: corridor.frame ?? null },
    margin: margin === undefined ? null : { px: tidyNumber(margin.px), percentOfWidth: tidyNumber(margin.percentOfWidth), grade: margin.grade },
    slip: slip ?? null,
    badFrames: split.badFrames.map(([from, to]) => [from, to]),
    culprits: split.culprits.map(([from, to]) => [from, to]),
    segments: split.segments.map(({ from, to, x }) => ({ from, to, x: tidyNumber(x) })),
    framesUsed: split.framesUsed,
    spread: tidyNumber(split.spread),
    threshold: tidyNumber(split.threshold),
    confidence: tidyNumber(split.confidence),
    reasons: split.reasons,
  };
}

/** Shift in px of the plate, scale as a factor, rotation in degrees clockwise: how the pass lies on the lead. */
export function registrationOf(found: PlateRegistration) {
  return {
    dx: tidyNumber(found.dx), dy: tidyNumber(found.dy), scale: tidyNumber(found.scale), rotation: tidyNumber(found.rotationDeg),
    largestPx: tidyNumber(found.largestPx), uncertaintyPx: tidyNumber(found.uncertaintyPx), nullPx: found.nullPx === undefined ? null : tidyNumber(found.nullPx),
    psr: tidyNumber(found.psr), agreeing: tidyNumber(found.q), pairs: found.pairs, confidence: found.confidence,
  };
}

/** Stops, pass minus lead; each channel with its gain and offset. */
export function exposureOf(answer: ColourAnswer) {
  if (answer.kind === 'cannot-tell') return { cannotTell: answer.why };
  const channel = ({ stops, gain, offset, agreeing, offsetOnly }: ChannelExposure) => ({ stops: tidyNumber(stops), gain: tidyNumber(gain), offset: tidyNumber(offset), agreeing: tidyNumber(agreeing), offsetOnly });
  const { red, green, blue } = answer.channels;
  return { stops: tidyNumber(answer.stops), redStops: tidyNumber(answer.redStops), blueStops: tidyNumber(answer.blueStops), channels: { red: channel(red), green: channel(green), blue: channel(blue) } };
}

/** A measurement by its own shape, or `{ cannotTell: "why" }`. */
export function toldOf<T, R>(told: Told<T>, shape: (measured: T) => R): R | { readonly cannotTell: string } {
  return told.kind === 'cannot-tell' ? { cannotTell: told.why } : shape(told);
}

/** An offset in frames with its confidence, or why there is none. */
export function syncOf(answer: SyncAnswer) {
  return answer.kind === 'cannot-tell' ? { cannotTell: answer.why } : { offset: answer.offset + 0, exactOffset: tidyNumber(answer.exactOffset), confidence: tidyNumber(answer.confidence), words: answer.words };
}

function plateOf({ registration, differences, activeFrames, activePlaces, blindShare }: PlateAnswer) {
  return {
    registration: registrationOf(registration),
    differences: differences.map(({ kind, left, top, width, height, sharpness }) => ({ kind, left, top, width, height, sharpness: tidyNumber(sharpness) })),
    activePlaces,
    activeFrames,
    blindShare: tidyNumber(blindShare),
  };
}

function clipOf({ frames, motion }: ClipPicture) {
  const spans = (list: readonly FrameSpan[]): readonly (readonly number[])[] => list.map(({ start, end }) => [start, end - 1]);
  return {
    frames: frames.frames,
    frozen: spans(frames.frozen),
    repeated: frames.repeated,
    cadence: frames.cadence ?? null,
    repeatsAre: frames.repeatsAre,
    black: spans(frames.black),
    blank: spans(frames.blank),
    flashes: frames.flashes,
    camera: toldOf(motion, ({ is, move, stepPx, fromFirstPx, bumps, everyFrames }) => ({
      is, move: move ?? null, stepPx: tidyNumber(stepPx), fromFirstPx: tidyNumber(fromFirstPx),
      bumps: bumps.map(({ start, end, px }) => ({ from: start, to: end - 1, px: tidyNumber(px) })), everyFrames,
    })),
  };
}

function elementOf(element: ElementPicture) {
  const screen = toldOf(element.screen, ({ screenShare, spillShare, worstSpill, evenness }) => ({
    screenShare: tidyNumber(screenShare), spillShare: tidyNumber(spillShare), worstSpill: tidyNumber(worstSpill), unevenStops: tidyNumber(evenness.stops),
  }));
  return { ...clipOf(element), screen };
}

function lineOf(line: readonly LinePoint[]) {
  return line.map(([y, x]) => [tidyNumber(y), tidyNumber(x)]);
}
