import type { LumaFrame } from '../frame.ts';
import { temporalMean } from '../pixels/over-time.ts';
import type { SplitLine } from '../split/split-line.ts';
import type { FramePair, Still } from '../split/still.ts';
import { MaskMaker } from '../split/frame-masks.ts';
import { makeStill } from '../split/still.ts';
import { sampleOf, SplitStudy } from '../split/study-split.ts';
import type { ClipFrames } from './clip-frames.ts';
import type { MatchTask } from './match-task.ts';
import type { FramePlaces, Laid } from './measure-registration.ts';
import { layMatched } from './measure-registration.ts';

/** Frames without a partner that are looked at for what a line bears at another sync. */
const MOST_ALONE = 200;
/** A person 18 px high in a proxy covers more; noise covers none. */
const MOST_RESTLESS = 0.002;

/** The split-line study of a match, in px of the proxy. `clean` are frames of the clean plate as they lie on the lead. */
export function studyMatch(task: MatchTask, pass: ClipFrames, laid: Laid, clean: readonly LumaFrame[] | undefined): SplitLine {
  const { lead } = task;
  const refuse = (why: string): SplitLine => noLine(why, { raster: lead.proxy });
  if (laid.pairs.length === 0) return refuse('the passes share no frame at this offset');
  if (laid.found === undefined && laid.registration.kind === 'cannot-tell') return refuse(laid.registration.why);
  if (laid.moving) return refuse('the camera moves: a line is looked for only where it stands still');
  const room = roomFor(lead);
  const pairOf = (places: FramePlaces): FramePair => ({ frame: places.lead, lead: lead.frameInto(places.lead, room.lead), swapped: layMatched(pass.frameInto(places.pass, room.pass), laid, room.laid) });
  const still = makeStill(lazily(sampleOf(laid.pairs, 16), pairOf), clean === undefined ? undefined : temporalMean(clean));
  const study = new SplitStudy(still, { lockedOff: true, ...withinOf(task) });
  for (const places of laid.pairs) study.add(pairOf(places));
  for (const frame of alone(task, pass, laid, room)) study.addAlone(frame);
  const found = study.finish();
  const knock = found.verdict === 'yes' ? knockOf(lead, pass) : undefined;
  const split = knock === undefined ? found : noLine(knock, { raster: lead.proxy });
  const restless = split.verdict === 'no' && clean !== undefined ? restlessShare(still, clean) : 0;
  if (restless <= MOST_RESTLESS) return split;
  return { ...split, verdict: 'cannot tell', confidence: 0, reasons: [`the clean plate differs from itself in ${(100 * restless).toFixed(1)} % of the picture (a codec, leaves, a screen), so what blocks the line may be nobody`, ...split.reasons] };
}

/** Above this, px of the proxy, one registration does not hold before and after. */
const MOST_BUMP_PX = 1;

/** Why a line is not believed although the camera stands still but for a moment. */
function knockOf(...clips: readonly ClipFrames[]): string | undefined {
  const bumps = clips.flatMap(({ motion, everyFrames }) => (motion.kind === 'cannot-tell' ? [] : motion.bumps.map((bump) => ({ ...bump, at: bump.start * everyFrames }))));
  const worst = bumps.toSorted((a, b) => b.px - a.px || a.at - b.at)[0];
  return worst === undefined || worst.px <= MOST_BUMP_PX ? undefined : `a line was found, but the camera was knocked about frame ${worst.at}, and no one registration holds before and after`;
}

/** A split line that was not looked for. */
export function noLine(why: string, { raster }: Pick<ClipFrames, 'raster'>): SplitLine {
  return { verdict: 'cannot tell', ...raster, line: [], keys: [], badFrames: [], segments: [], culprits: [], framesUsed: 0, spread: 0, threshold: 0, confidence: 0, reasons: [why] };
}

/** The share of the picture that would be called somebody between frames of the empty set: the worst of a few pairs. */
function restlessShare(still: Still, clean: readonly LumaFrame[]): number {
  const maker = new MaskMaker(still);
  const half = clean.length >> 1;
  const pairs = clean.slice(0, half).flatMap((lead, frame) => { const swapped = clean[frame + half]; return swapped === undefined ? [] : [{ frame, lead, swapped }]; });
  return Math.max(0, ...sampleOf(pairs, 4).map((pair) => maker.masksOf(pair).share));
}

function withinOf({ within, lead }: MatchTask): { readonly within?: { readonly first: number; readonly last: number } } {
  if (within === undefined) return {};
  const scale = lead.proxy.width / lead.raster.width;
  return { within: { first: Math.floor(within.first * scale), last: Math.min(lead.proxy.width - 1, Math.ceil(within.last * scale)) } };
}

/** Frames of either pass that lie over nothing at this sync. */
function* alone({ lead, range }: MatchTask, pass: ClipFrames, laid: Laid, room: Room): Generator<LumaFrame> {
  const [ofLead, ofPass] = [new Set(laid.pairs.map((pair) => pair.lead)), new Set(laid.pairs.map((pair) => pair.pass))];
  const leads = lead.numbers.filter((number) => !ofLead.has(number) && number >= range.start && number < range.end);
  for (const number of sampleOf(leads, MOST_ALONE)) yield lead.frameInto(number, room.lead);
  for (const number of sampleOf(pass.numbers.filter((one) => !ofPass.has(one)), MOST_ALONE)) yield layMatched(pass.frameInto(number, room.pass), laid, room.laid);
}

/** One after the other, since each is written over by the next. */
function* lazily<Place, Thing>(places: readonly Place[], make: (place: Place) => Thing): Generator<Thing> {
  for (const place of places) yield make(place);
}

/** Written over by frame after frame: the study keeps none. */
interface Room {
  readonly lead: Float32Array;
  readonly pass: Float32Array;
  readonly laid: Float32Array;
}

function roomFor({ proxy: { width, height } }: ClipFrames): Room {
  return { lead: new Float32Array(width * height), pass: new Float32Array(width * height), laid: new Float32Array(width * height) };
}
