import { rateName, sameRate } from '../../timecode/rate.ts';
import type { NoCost } from '../difference-cost.ts';
import { refusalsOfSetting } from '../difference-cost.ts';
import { assertLength, refusalOf } from '../impossible.ts';
import type { Planes } from '../planes.ts';
import type { Plate } from '../plate.ts';
import { picturePoints } from '../plate.ts';
import type { PicturePoint } from '../projection.ts';
import type { Timing } from './align-moves.ts';
import { alignMoves, partnerFrame } from './align-moves.ts';
import type { ChannelShare, PosePair } from './attribute.ts';
import { attribute } from './attribute.ts';
import { choosePlanes } from './customary-planes.ts';
import type { FrameDifference, Nearness } from './frame-difference.ts';
import { frameDifference } from './frame-difference.ts';
import type { Move } from './move.ts';
import type { MoveFigures } from './move-figures.ts';
import { figuresOf } from './move-figures.ts';
import type { Posed } from './posed-move.ts';
import { poseAt, poseMove } from './posed-move.ts';
import type { StanceDifference } from './stance.ts';
import { stanceDifference } from './stance.ts';

/** How two moves are laid over each other and seen. */
export interface MoveSettings {
  readonly plate: Plate;
  readonly planes: Planes;
  /** Frame of the second move under a frame of the first: first + offset, each counted from its own zero. */
  readonly offset: number;
  /** The lens on the camera, for samples that do not carry a focal length. */
  readonly focalLengthMm?: number;
}

/** Two moves compared frame by frame, in px of the plate. No figure is ever NaN or infinite. */
export interface MoveComparison {
  readonly kind: 'moves';
  /** As the sync lays them over each other. */
  readonly synced: MoveFigures;
  readonly timing: Timing;
  /** Once the delay (and speed) found is taken out; absent when none was found. */
  readonly aligned?: MoveFigures;
  /** Where the difference comes from, the worst first; as the sync lays them. */
  readonly channels: readonly ChannelShare[];
  /** How the second camera stood beside the first at the worst frame of the near plane. */
  readonly worst: StanceDifference;
  /** Frame by frame, for a plot; as the sync lays them. */
  readonly frames: readonly FrameDifference[];
  /** Frames of the first that have no partner: outside the second, or in a hole of it. */
  readonly framesWithoutPartner: number;
  readonly assumptions: readonly string[];
  readonly missing: readonly string[];
}

/** Pairs of frames by which the channels are weighed; more change nothing that is said of them. */
const WEIGHED_FRAMES = 300;

/** Compares a move with the lead's. Never throws for what the samples hold. */
export function compareMoves(first: Move, second: Move, settings: MoveSettings): MoveComparison | NoCost {
  const { plate, offset, focalLengthMm } = settings;
  const refusals = [...refusalsOfSetting(plate, settings.planes), ...(focalLengthMm === undefined ? [] : [refusalOf(() => assertLength('focal length', focalLengthMm))].filter((one) => one !== undefined))];
  if (refusals.length > 0) return { kind: 'refused', refusals };
  if (!sameRate(first.rate, second.rate)) {
    return { kind: 'refused', refusals: [{ what: 'frame rate of the second move', found: `${rateName(second.rate)} fps`, expected: `${rateName(first.rate)} fps, as the first` }] };
  }
  const pupils = [first, second].every(({ samples }) => samples.length > 0 && samples.every(({ entrancePupilMm }) => entrancePupilMm !== undefined));
  const [lead, pass] = [poseMove(first, plate, pupils, focalLengthMm), poseMove(second, plate, pupils, focalLengthMm)];
  if (lead.length === 0 || pass.length === 0) return { kind: 'unknown', missing: ['a move of both passes with position, turn and focal length'] };
  const chosen = choosePlanes(settings.planes);
  const points = picturePoints(plate);
  const frames = [...differencesOf(lead, pass, (frame) => frame + offset, points, chosen.nearness)];
  if (frames.length === 0) return { kind: 'unknown', missing: ['frames that both moves share'] };
  const overlay = { first: lead, second: pass, offset, nearness: chosen.middle };
  const timing = alignMoves(overlay, first.rate.num / first.rate.den);
  const synced = figuresOf(frames, points.length);
  return {
    kind: 'moves',
    synced,
    timing,
    ...(timing.kind === 'found' ? { aligned: figuresOf(differencesOf(lead, pass, (frame) => partnerFrame(frame, overlay, timing), points, chosen.nearness), points.length) } : {}),
    channels: attribute(pairsOf(lead, pass, offset), points, chosen.nearness),
    worst: stanceAt(lead, pass, synced.near.worstFrame, offset),
    frames,
    framesWithoutPartner: lead.length - frames.length,
    assumptions: [...chosen.assumptions, ...(pupils ? [] : ['the entrance pupil is not on record for both: the picture is taken to be seen from the sensor'])],
    missing: chosen.missing,
  };
}

/** Frame by frame, where both have one; given out one at a time, since a long move would fill the memory twice. */
function* differencesOf(lead: readonly Posed[], pass: readonly Posed[], partnerOf: (frame: number) => number, points: readonly PicturePoint[], nearness: Nearness): Generator<FrameDifference> {
  for (const pose of lead) {
    const partner = poseAt(pass, partnerOf(pose.frame));
    const difference = partner === undefined ? undefined : frameDifference(pose, partner, points, nearness);
    if (difference !== undefined) yield difference;
  }
}

function pairsOf(lead: readonly Posed[], pass: readonly Posed[], offset: number): readonly PosePair[] {
  const stride = Math.ceil(lead.length / WEIGHED_FRAMES);
  return lead.flatMap((first, index) => {
    const second = index % stride === 0 ? poseAt(pass, first.frame + offset) : undefined;
    return second === undefined ? [] : [{ first, second }];
  });
}

function stanceAt(lead: readonly Posed[], pass: readonly Posed[], frame: number, offset: number): StanceDifference {
  const [first, second] = [poseAt(lead, frame), poseAt(pass, frame + offset)];
  if (first === undefined || second === undefined) throw new Error(`frame ${frame} was compared but is not there`);
  return stanceDifference(first, second);
}
