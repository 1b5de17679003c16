import type { LumaFrame } from '../frame.ts';
import { sameSize } from '../frame.ts';
import { findBlobs } from '../pixels/blobs.ts';
import { gaussianBlur } from '../pixels/blur.ts';
import { steepness } from '../pixels/gradient.ts';
import { tidy } from '../pixels/morphology.ts';
import { temporalMean, temporalMedian } from '../pixels/over-time.ts';
import type { Raster } from '../registration/plate-px.ts';
import type { PlateActivity } from './activity.ts';
import { findActivity } from './activity.ts';
import { fitGainField, underLight } from './gain-field.ts';
import { sharpnessOf } from './sharpness.ts';

/** A place in the plate that differs from what the passes show behind the performers. Box in px, `left` and `top` first. */
export interface PlateDifference {
  /** 'object': a person, prop or door; 'light': a soft shadow or a changed lamp; 'small': too small to be a person. */
  readonly kind: 'object' | 'light' | 'small';
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly area: number;
  /** How steeply it begins at its rim, in parts of its own strength: a body .33 and more, a soft shadow up to .12. */
  readonly sharpness: number;
}

export interface PlateChecked {
  readonly kind: 'measured';
  /** Largest first. */
  readonly differences: readonly PlateDifference[];
  readonly activity: PlateActivity;
  /** Where the passes themselves disagree most of the time (marks where performers stand), so that only movement could be seen. */
  readonly blind: readonly Omit<PlateDifference, 'kind' | 'sharpness'>[];
  /** Share of the frame that is blind, 0 to 1. */
  readonly blindShare: number;
}

export type PlateCheck = PlateChecked | { readonly kind: 'cannot-tell'; readonly why: string };

/** Sizes for a proxy 320 px wide; a figure 60 px high covers 490 px and more. */
const OBJECT_AREA = 100;
const OBJECT_HEIGHT = 20;
const OBJECT_WIDTH = 5;
const OBJECT_SHARPNESS = 0.15;
const LISTED_AREA = 30;
const LISTED_BLIND = 100;

/**
 * Looks for what does not belong in a clean plate (image change detection, surveyed by Radke, Andra, Al-Kofahi and Roysam
 * 2005). Swapped and clean frames must already lie on the lead. A person and a prop look alike to it; someone who stands
 * still on a performer's mark through the whole plate cannot be found, and `blind` says where.
 * @param noise spread of the noise of one frame, codes.
 */
export function checkPlate(lead: readonly LumaFrame[], swapped: readonly LumaFrame[], clean: readonly LumaFrame[], noise: number): PlateCheck {
  const all = [...lead, ...swapped, ...clean];
  const first = all[0];
  if (first === undefined || lead.length === 0 || swapped.length === 0 || clean.length === 0) return { kind: 'cannot-tell', why: 'a lead pass, a swapped pass and a clean plate are needed' };
  if (!all.every((frame) => sameSize(frame, first))) return { kind: 'cannot-tell', why: 'the pictures differ in size' };
  const behind = backgroundOf(lead, swapped, noise);
  const blindMask = behind.trusted.map((value) => 1 - value);
  const blindShare = blindMask.reduce((sum, value) => sum + value, 0) / blindMask.length;
  const plate = gaussianBlur(temporalMean(clean), 0.8);
  const field = fitGainField(behind.picture, plate, behind.trusted);
  if (field === undefined || blindShare > 0.5) return { kind: 'cannot-tell', why: 'the passes agree on too little of the background' };
  const expected = underLight(behind.picture, field);
  const rest = plate.values.map((value, i) => value - (expected.values[i] ?? 0));
  const slopes = steepness(behind.picture);
  const mask = Uint8Array.from(rest, (value, i) => (behind.trusted[i] === 1 && Math.abs(value) > limit(noise, slopes[i] ?? 0) ? 1 : 0));
  const differences = findBlobs(tidy(mask, first.width), first.width, LISTED_AREA).map((blob) => describe({ ...blob, sharpness: sharpnessOf(blob, rest, first) }));
  const blind = findBlobs(tidy(blindMask, first.width), first.width, LISTED_BLIND).map(({ left, top, width, height, area }) => ({ left, top, width, height, area }));
  return { kind: 'measured', differences, activity: findActivity(clean, slopes, noise), blind, blindShare };
}

/** What counts as a difference at a pixel, codes: more where the picture is steep and a hair of misregistration shows. */
function limit(noise: number, slope: number): number {
  return Math.max(1.5, 1.5 * noise) + 0.2 * slope;
}

/** The mean of both passes' medians, trusted only where they agree: different people stand on different marks. */
function backgroundOf(lead: readonly LumaFrame[], swapped: readonly LumaFrame[], noise: number): { readonly picture: LumaFrame; readonly trusted: Uint8Array } {
  const [first, second] = [gaussianBlur(temporalMedian(lead), 0.8), gaussianBlur(temporalMedian(swapped), 0.8)];
  const picture = { ...first, values: first.values.map((value, i) => (value + (second.values[i] ?? 0)) / 2) };
  const slopes = steepness(picture);
  const trusted = Uint8Array.from(first.values, (value, i) => (Math.abs(value - (second.values[i] ?? 0)) < limit(noise, slopes[i] ?? 0) ? 1 : 0));
  return { picture, trusted };
}

function describe({ left, top, width, height, area, sharpness }: Omit<PlateDifference, 'kind'>): PlateDifference {
  const kind = sharpness < OBJECT_SHARPNESS ? 'light' : area >= OBJECT_AREA && height >= OBJECT_HEIGHT && width >= OBJECT_WIDTH ? 'object' : 'small';
  return { kind, left, top, width, height, area, sharpness };
}

/** The box of a place in px of the plate, rounded outwards. */
export function boxInPlatePx<T extends { readonly left: number; readonly top: number; readonly width: number; readonly height: number }>(box: T, proxy: Raster, plate: Raster): T {
  const [across, down] = [plate.width / proxy.width, plate.height / proxy.height];
  const left = Math.floor(box.left * across);
  const top = Math.floor(box.top * down);
  return { ...box, left, top, width: Math.ceil((box.left + box.width) * across) - left, height: Math.ceil((box.top + box.height) * down) - top };
}
