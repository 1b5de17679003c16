import type { Encoding } from '../exposure/encoding.ts';
import type { ColourFrame } from '../frame.ts';
import type { Blob } from '../pixels/blobs.ts';
import { findBlobs } from '../pixels/blobs.ts';
import { quantile } from '../pixels/order.ts';
import type { Evenness } from './evenness.ts';
import { measureEvenness } from './evenness.ts';
import type { ScreenColour } from './spill.ts';
import { spillOf } from './spill.ts';

export interface ScreenMeasured {
  readonly kind: 'measured';
  /** Share of the frame that is screen, 0 to 1. */
  readonly screenShare: number;
  /** Share of what stands before the screen that carries spill, 0 to 1. */
  readonly spillShare: number;
  /** The spill of its worst twentieth, 0 to 1; 0 when there is none. */
  readonly worstSpill: number;
  readonly evenness: Evenness;
}

export type ScreenCheck = ScreenMeasured | { readonly kind: 'cannot-tell'; readonly why: string };

export interface ScreenOptions {
  readonly screen?: ScreenColour;
  readonly encoding: Encoding;
  /** The clean plate lying on the frame: what is green there already, such as a wall, is no spill. */
  readonly clean?: ColourFrame;
}

const SCREEN_SHARE = 0.35;
const SCREEN_EXCESS = 40;
const SPILL_SHARE = 0.03;
/** A screen takes up at least this much of the frame. */
const LEAST_SCREEN = 0.02;

/** Finds the screen, what of its light falls on what stands before it, and how evenly it is lit. */
export function checkScreen(frame: ColourFrame, { screen = 'green', encoding, clean }: ScreenOptions): ScreenCheck {
  const size = frame.width * frame.height;
  const shares = new Float32Array(size);
  const mask = new Uint8Array(size);
  for (let i = 0; i < size; i++) {
    const { share, excessOverMax } = spillAt(frame, i, screen);
    shares[i] = share;
    if (share >= SCREEN_SHARE && excessOverMax >= SCREEN_EXCESS) mask[i] = 1;
  }
  const blob = findBlobs(mask, frame.width, LEAST_SCREEN * size)[0];
  if (blob === undefined) return { kind: 'cannot-tell', why: `no ${screen} screen takes up ${100 * LEAST_SCREEN} % of the frame` };
  const spill = spillBefore(frame, blob, shares, { screen, clean });
  const ownChannel = screen === 'green' ? frame.green : frame.blue;
  return { kind: 'measured', screenShare: blob.area / size, ...spill, evenness: measureEvenness({ ...frame, values: ownChannel }, blob.pixels, encoding) };
}

function spillAt({ red, green, blue }: ColourFrame, at: number, screen: ScreenColour): ReturnType<typeof spillOf> {
  return spillOf(red[at] ?? 0, green[at] ?? 0, blue[at] ?? 0, screen);
}

/** Spill on everything that is not screen, less what the clean plate has there. */
function spillBefore(frame: ColourFrame, blob: Blob, shares: Float32Array, { screen, clean }: { readonly screen: ScreenColour; readonly clean: ColourFrame | undefined }): { readonly spillShare: number; readonly worstSpill: number } {
  const onScreen = new Uint8Array(shares.length);
  for (const at of blob.pixels) onScreen[at] = 1;
  const found: number[] = [];
  let before = 0;
  for (let i = 0; i < shares.length; i++) {
    if (onScreen[i] === 1) continue;
    before++;
    const own = clean === undefined || clean.green.length !== shares.length ? 0 : spillOfThing(clean, i, screen);
    const share = (shares[i] ?? 0) - own;
    if (share >= SPILL_SHARE && share < SCREEN_SHARE) found.push(share);
  }
  return { spillShare: before === 0 ? 0 : found.length / before, worstSpill: found.length === 0 ? 0 : quantile(found, 0.95) };
}

/** What is green of itself; where the clean plate shows the screen, whoever stands before it must answer for all. */
function spillOfThing(clean: ColourFrame, at: number, screen: ScreenColour): number {
  const { share } = spillAt(clean, at, screen);
  return share >= SCREEN_SHARE ? 0 : share;
}
