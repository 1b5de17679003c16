import { formatRate, frameRate } from '../../core/timecode/rate.ts';
import { hex, i32, slice, u16, u32, u8 } from './bytes.ts';
import type { FoundText, FoundValue } from './media-facts.ts';
import { found } from './media-facts.ts';
import { plainText } from './text.ts';

/** What the camera recorded of lens and exposure with one picture. */
export interface Acquisition {
  readonly values: readonly FoundValue[];
  readonly texts: readonly FoundText[];
}

/** Lens unit (01), camera unit (02) and user-defined (7F) sets; byte 14 tells which. */
const SET_KEY = '060e2b34025301010c020101';
const MAX_SETS = 8;

/**
 * Finds acquisition metadata sets (SMPTE RDD 18, EBU Tech 3349) among the bytes that travel with one picture, and reads the
 * items that say something of the shot. Reading of a set stops at the first item that cannot be one.
 */
export function acquisitionOf(bytes: Uint8Array, place: string): Acquisition {
  const items = new Map<number, Uint8Array>();
  let at = bytes.indexOf(0x06);
  for (let sets = 0; at !== -1 && at + 17 <= bytes.length && sets < MAX_SETS; at = bytes.indexOf(0x06, at + 1)) {
    if (hex(bytes.subarray(at, at + 12)) !== SET_KEY) continue;
    sets += 1;
    readSet(setContent(bytes, at + 16), items);
  }
  return { values: valuesOf(items, place), texts: textsOf(items, place) };
}

/** The value of the packet whose length stands at an offset, as far as it is there. */
function setContent(bytes: Uint8Array, at: number): Uint8Array {
  const first = u8(bytes, at);
  const width = first < 0x80 ? 0 : first & 0x7f;
  const length = width === 0 ? first : bytes.subarray(at + 1, at + 1 + width).reduce((sum, byte) => sum * 256 + byte, 0);
  return bytes.subarray(at + 1 + width, at + 1 + width + length);
}

function readSet(set: Uint8Array, items: Map<number, Uint8Array>): void {
  for (let at = 0; at + 4 <= set.length; ) {
    const tag = u16(set, at);
    const length = u16(set, at + 2);
    const possible = (tag >= 0x3200 && tag < 0x3300) || (tag >= 0x8000 && tag < 0x9000) || (tag >= 0xe000 && tag < 0xf000);
    if (!possible || at + 4 + length > set.length) return;
    if (!items.has(tag)) items.set(tag, slice(set, at + 4, length));
    at += 4 + length;
  }
}

type Items = ReadonlyMap<number, Uint8Array>;

function valuesOf(items: Items, place: string): FoundValue[] {
  const values: FoundValue[] = [];
  const tStop = stopOf(word(items, 0x8008));
  if (tStop !== undefined) values.push(found('stop', { kind: 'T', number: tStop }, `T${tStop}`, `${place}, Iris (T)`));
  const fStop = stopOf(word(items, 0x8000));
  if (fStop !== undefined) values.push(found('stop', { kind: 'f', number: fStop }, `f/${fStop}`, `${place}, Iris (F)`));
  const focus = metresOf(word(items, 0x8001));
  if (focus !== undefined) values.push(found('focusDistance', focus, `${focus} m`, `${place}, Focus Position`));
  const zoom = metresOf(word(items, 0x8005));
  if (zoom !== undefined && zoom < 10) values.push(found('focalLength', rounded(zoom * 1000), `${rounded(zoom * 1000)} mm`, `${place}, Lens Zoom`));
  return [...values, ...exposureValues(items, place)];
}

function exposureValues(items: Items, place: string): FoundValue[] {
  const values: FoundValue[] = [];
  const capture = fraction(items, 0x8106);
  if (capture !== undefined) values.push(found('sensorFps', frameRate(...capture), formatRate(frameRate(...capture)), `${place}, Capture Frame Rate`));
  const minutes = items.get(0x8108);
  const degrees = minutes?.length === 4 ? u32(minutes, 0) / 60 : 0;
  if (degrees > 0 && degrees <= 360) values.push(found('shutter', { kind: 'angle', degrees }, `${degrees * 60} minutes`, `${place}, Shutter Speed (Angle)`));
  const time = fraction(items, 0x8109);
  if (time !== undefined) values.push(found('shutter', { kind: 'time', seconds: time[0] / time[1] }, `${time[0]}/${time[1]} s`, `${place}, Shutter Speed (Time)`));
  // What the meter is set to is the exposure index on the report; the sensitivity may be the sensor's native one.
  const metered = word(items, 0x8115);
  const ei = metered ?? word(items, 0x810b);
  if (ei !== undefined) values.push(found('ei', ei, String(ei), `${place}, ${metered === undefined ? 'ISO Sensitivity' : 'Exposure Index'}`));
  const kelvin = word(items, 0x810e);
  if (kelvin !== undefined) values.push(found('whiteBalance', kelvin, `${kelvin} K`, `${place}, White Balance`));
  return values;
}

/** Lens and camera attributes hold model, serial or both, as each maker likes: they are given as they stand. */
function textsOf(items: Items, place: string): FoundText[] {
  return ([[0x8007, 'Lens Attributes'], [0x8114, 'Camera Attributes']] as const).flatMap(([tag, name]) => {
    const text = plainText(items.get(tag) ?? new Uint8Array(0));
    return text === '' ? [] : [{ name, text, place: `${place}, ${name}` }];
  });
}

/** A 16-bit item; none when it is 0 or all ones, which mean "not known". */
function word(items: Items, tag: number): number | undefined {
  const bytes = items.get(tag);
  const value = bytes?.length === 2 ? u16(bytes, 0) : 0;
  return value === 0 || value === 0xffff ? undefined : value;
}

/** A stop N as 65536 × (1 − log2(N) / 8). */
function stopOf(code: number | undefined): number | undefined {
  return code === undefined ? undefined : Math.round(2 ** (8 * (1 - code / 65_536)) * 100) / 100;
}

/** "Common distance format" in metres: a signed 4-bit power of ten and a 12-bit number. Beyond 10 km a lens stands at infinity. */
function metresOf(code: number | undefined): number | undefined {
  if (code === undefined || (code & 0xfff) === 0) return undefined;
  const power = code >> 12;
  const metres = rounded((code & 0xfff) * 10 ** (power < 8 ? power : power - 16));
  return metres > 10_000 ? Infinity : metres;
}

/** Takes off what a power of ten in binary leaves behind. */
function rounded(value: number): number {
  return Number(value.toPrecision(9));
}

/** A fraction of two positive 32-bit numbers. */
function fraction(items: Items, tag: number): readonly [num: number, den: number] | undefined {
  const bytes = items.get(tag);
  if (bytes?.length !== 8) return undefined;
  const [num, den] = [i32(bytes, 0), i32(bytes, 4)];
  return num > 0 && den > 0 ? [num, den] : undefined;
}
