import type { Raster } from '../../core/material/statement.ts';
import { plainWord } from './plain.ts';
import type { Reading } from './reading.ts';
import { BLANK, unreadable, valueOf } from './reading.ts';
import { isUnknown } from './unknown.ts';

const EXPECTED = 'width x height in pixels such as 4096x2160 (names like 4K stand for several)';

/** A raster: `4096x2160`, `4096 × 2160`, `4096*2160 px`. "4K" is a name for several rasters and is not read. */
export function readRaster(text: string): Reading<Raster> {
  if (isUnknown(text)) return BLANK;
  const [, width, height] = /^(\d{1,6}) ?(?:px)? ?(?:x|\*|by|:) ?(\d{1,6}) ?(?:px|pixels?)?$/.exec(plainWord(text)) ?? [];
  return rasterOf(Number(width), Number(height));
}

/** A raster from two numbers; 0 x 0 is "not set". */
export function rasterOf(width: number, height: number): Reading<Raster> {
  if (width === 0 && height === 0) return BLANK;
  const plausible = (size: number): boolean => Number.isInteger(size) && size >= 16 && size <= 65_534;
  return plausible(width) && plausible(height) ? valueOf({ width, height }) : unreadable(EXPECTED);
}
