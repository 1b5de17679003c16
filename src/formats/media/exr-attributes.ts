import type { FrameRate } from '../../core/timecode/rate.ts';
import { formatRate, frameRate } from '../../core/timecode/rate.ts';
import type { Raster } from '../../core/material/statement.ts';
import type { Reader } from './byte-source.ts';
import { f32, f64, i32, u32, u8 } from './bytes.ts';
import type { ExrAttribute, ExrHeader } from './exr-header.ts';
import { plainText } from './text.ts';

/** A value gemel can use; the attribute's type decides, never its name. */
export type ExrValue =
  | { readonly kind: 'number'; readonly number: number }
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'rate'; readonly rate: FrameRate }
  | { readonly kind: 'timecode'; readonly word: number }
  | { readonly kind: 'box'; readonly box: Box }
  | { readonly kind: 'byte'; readonly byte: number };

/** Corners of a window, both inside it. */
export interface Box {
  readonly xMin: number;
  readonly yMin: number;
  readonly xMax: number;
  readonly yMax: number;
}

/** Longest text that is taken; a framing decision list is longer, and no fact about the clip. */
const MAX_TEXT_BYTES = 4096;
const MAX_VALUES = 500;

/** The usable attributes by name: those of the first part, then what later parts add. */
export async function readValues(reader: Reader, header: ExrHeader): Promise<ReadonlyMap<string, ExrValue>> {
  const values = new Map<string, ExrValue>();
  for (const part of header.parts) {
    for (const attribute of part.values()) {
      if (values.has(attribute.name) || values.size >= MAX_VALUES) continue;
      const value = await readValue(reader, attribute);
      if (value !== undefined) values.set(attribute.name, value);
    }
  }
  return values;
}

const SIZES: Readonly<Record<string, number>> = { int: 4, float: 4, double: 8, rational: 8, timecode: 8, box2i: 16, compression: 1 };

async function readValue(reader: Reader, { type, at, size }: ExrAttribute): Promise<ExrValue | undefined> {
  if (type === 'string') return size > MAX_TEXT_BYTES ? undefined : { kind: 'text', text: plainText(await reader.look(at, size)) };
  if (SIZES[type] !== size) return undefined;
  const bytes = await reader.look(at, size);
  switch (type) {
    case 'int':
      return { kind: 'number', number: i32(bytes, 0, true) };
    case 'float':
      return { kind: 'number', number: f32(bytes, 0, true) };
    case 'double':
      return { kind: 'number', number: f64(bytes, 0, true) };
    case 'rational':
      return rational(i32(bytes, 0, true), u32(bytes, 4, true));
    case 'timecode':
      return { kind: 'timecode', word: u32(bytes, 0, true) };
    case 'compression':
      return { kind: 'byte', byte: u8(bytes, 0) };
    default:
      return { kind: 'box', box: { xMin: i32(bytes, 0, true), yMin: i32(bytes, 4, true), xMax: i32(bytes, 8, true), yMax: i32(bytes, 12, true) } };
  }
}

function rational(num: number, den: number): ExrValue | undefined {
  return num > 0 && den > 0 ? { kind: 'rate', rate: frameRate(num, den) } : undefined;
}

/** Size of a window, or undefined when it is empty or absurd. */
export function sizeOf({ xMin, yMin, xMax, yMax }: Box): Raster | undefined {
  const raster = { width: xMax - xMin + 1, height: yMax - yMin + 1 };
  return raster.width > 0 && raster.height > 0 && raster.width < 1_000_000 && raster.height < 1_000_000 ? raster : undefined;
}

/** A value as text, for those whose meaning is left to the reader; undefined for windows and the like. */
export function valueText(value: ExrValue): string | undefined {
  if (value.kind === 'text') return value.text;
  if (value.kind === 'number') return Number.isFinite(value.number) ? String(value.number) : undefined;
  return value.kind === 'rate' ? formatRate(value.rate) : undefined;
}
