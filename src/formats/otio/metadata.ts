import type { ColourDecision } from '../../core/material/cut.ts';
import { list, record, text } from './schema.ts';

/** What converters of edit lists keep in a clip's metadata: reel, comments and colour decision values. */
export interface EditMetadata {
  readonly reel?: string;
  readonly comments: readonly string[];
  readonly cdl?: ColourDecision;
}

/** Reads the keys that the open CMX 3600 adapter of OpenTimelineIO writes (`cmx_3600`, `cdl`); everything else is left alone. */
export function readMetadata(value: unknown, from: string): EditMetadata {
  const metadata = record(value);
  const edl = record(metadata?.['cmx_3600']);
  const reel = text(edl?.['reel']);
  const cdl = readCdl(metadata?.['cdl'], from);
  return {
    ...(reel === undefined ? {} : { reel }),
    comments: list(edl?.['comments']).flatMap((comment) => text(comment) ?? []),
    ...(cdl === undefined ? {} : { cdl }),
  };
}

function readCdl(value: unknown, from: string): ColourDecision | undefined {
  const cdl = record(value);
  const sop = record(cdl?.['asc_sop']);
  const saturation = cdl?.['asc_sat'];
  const [slope, offset, power] = [triple(sop?.['slope']), triple(sop?.['offset']), triple(sop?.['power'])];
  const isNumber = typeof saturation === 'number' && Number.isFinite(saturation);
  if (slope === undefined && offset === undefined && power === undefined && !isNumber) return undefined;
  return { slope: slope ?? [1, 1, 1], offset: offset ?? [0, 0, 0], power: power ?? [1, 1, 1], saturation: isNumber ? saturation : 1, from };
}

function triple(value: unknown): readonly [number, number, number] | undefined {
  const [red, green, blue] = list(value);
  const isNumber = (one: unknown): one is number => typeof one === 'number' && Number.isFinite(one);
  return isNumber(red) && isNumber(green) && isNumber(blue) ? [red, green, blue] : undefined;
}
