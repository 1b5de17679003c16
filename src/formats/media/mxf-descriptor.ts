import { formatRate } from '../../core/timecode/rate.ts';
import type { FoundValue } from './media-facts.ts';
import { found } from './media-facts.ts';
import { containerCodingName, pictureCodingName } from './mxf-codecs.ts';
import type { HeaderMetadata, MetadataSet } from './mxf-sets.ts';
import { labelItem, numberItem, rateItem } from './mxf-sets.ts';

const TAG = {
  sampleRate: 0x3001, duration: 0x3002, container: 0x3004, coding: 0x3201, storedHeight: 0x3202, storedWidth: 0x3203,
  sampledHeight: 0x3204, sampledWidth: 0x3205, displayHeight: 0x3208, displayWidth: 0x3209, frameLayout: 0x320c,
} as const;
const PLACE = 'picture descriptor';
/** Frame layout "separate fields": heights are those of one field. */
const SEPARATE_FIELDS = 1;

/** What the picture descriptor says; `rateValue` and `durationFrames` are kept apart, since the packages say the same better. */
export interface PictureDescription {
  readonly values: readonly FoundValue[];
  readonly rateValue: FoundValue | undefined;
  readonly durationFrames: number | undefined;
}

/** The first descriptor that describes a picture. `containers` are the labels of the header partition. */
export function pictureDescription(metadata: HeaderMetadata, containers: readonly string[]): PictureDescription {
  const descriptor = [...metadata.sets.values()].find((set) => set.kind !== '' && (numberItem(set, TAG.storedWidth) ?? 0) > 0);
  if (descriptor === undefined) return { values: [], rateValue: undefined, durationFrames: undefined };
  const rate = rateItem(descriptor, TAG.sampleRate);
  const duration = numberItem(descriptor, TAG.duration);
  return {
    values: [...rasterValues(descriptor), ...codecValues(descriptor, containers)],
    rateValue: rate === undefined ? undefined : found('fps', rate, formatRate(rate), PLACE),
    durationFrames: duration !== undefined && duration > 0 ? duration : undefined,
  };
}

/** The displayed size when stated, else the sampled, else the stored one, which is padded to whole blocks. */
function rasterValues(descriptor: MetadataSet): FoundValue[] {
  const width = firstNumber(descriptor, TAG.displayWidth, TAG.sampledWidth, TAG.storedWidth);
  const lines = firstNumber(descriptor, TAG.displayHeight, TAG.sampledHeight, TAG.storedHeight);
  if (width === undefined || lines === undefined) return [];
  const height = numberItem(descriptor, TAG.frameLayout) === SEPARATE_FIELDS ? lines * 2 : lines;
  return [found('raster', { width, height }, `${width}x${height}`, PLACE)];
}

function firstNumber(descriptor: MetadataSet, ...tags: number[]): number | undefined {
  return tags.map((tag) => numberItem(descriptor, tag)).find((value) => value !== undefined && value > 0);
}

function codecValues(descriptor: MetadataSet, containers: readonly string[]): FoundValue[] {
  const coding = labelItem(descriptor, TAG.coding);
  const own = labelItem(descriptor, TAG.container);
  const wrapped = [...(own === undefined ? [] : [own]), ...containers];
  const name = (coding === undefined ? undefined : pictureCodingName(coding)) ?? wrapped.map(containerCodingName).find((label) => label !== undefined);
  const raw = coding ?? own;
  if (raw === undefined) return [];
  return [found('codec', name ?? `coding ${raw}`, raw, PLACE)];
}
