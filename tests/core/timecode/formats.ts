import type { TimecodeFormat } from '../../../src/core/timecode/timecode.ts';

/** Every way of counting the trade uses (SMPTE ST 12-1 to 60, ST 12-3 for 100 and 120), with the labels in one day. */
export const FORMATS: readonly (TimecodeFormat & { readonly name: string; readonly perDay: number })[] = [
  { name: '23.976 and 24', base: 24, drop: false, perDay: 2_073_600 },
  { name: '25', base: 25, drop: false, perDay: 2_160_000 },
  { name: '29.97 NDF and 30', base: 30, drop: false, perDay: 2_592_000 },
  { name: '29.97 DF', base: 30, drop: true, perDay: 2_589_408 },
  { name: '47.952 and 48', base: 48, drop: false, perDay: 4_147_200 },
  { name: '50', base: 50, drop: false, perDay: 4_320_000 },
  { name: '59.94 NDF and 60', base: 60, drop: false, perDay: 5_184_000 },
  { name: '59.94 DF', base: 60, drop: true, perDay: 5_178_816 },
  { name: '100', base: 100, drop: false, perDay: 8_640_000 },
  { name: '119.88 NDF and 120', base: 120, drop: false, perDay: 10_368_000 },
  { name: '119.88 DF', base: 120, drop: true, perDay: 10_357_632 },
];
