import type { SensorArea } from './angle-of-view.ts';

/** One way a camera records: the names files give the camera, the raster it writes, and the part of the sensor that raster shows. */
export interface SensorMode {
  readonly models: readonly string[];
  /** "4.5K open gate" */
  readonly mode: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly area: SensorArea;
  /** Who published it. */
  readonly source: string;
}

/** The recorded part of the sensor: known from a table, or taken for it, in words that belong beside every figure resting on it. */
export type FoundArea =
  | { readonly kind: 'known'; readonly area: SensorArea; readonly from: string }
  | { readonly kind: 'assumed'; readonly area: SensorArea; readonly words: string };

/** Width of the Super 35 film frame, mm; what an unknown camera is taken for. Common practice. */
const SUPER_35_WIDTH_MM = 24.89;

/**
 * The sensor area of a camera that recorded a raster. Names are compared without case, spaces and punctuation, and must be listed: a name that merely begins
 * alike is another camera. Of several modes with one raster the narrowest is taken, since its figures are the largest.
 */
export function findSensorArea(cameraModel: string | undefined, raster: Pick<SensorMode, 'widthPx' | 'heightPx'>, modes: readonly SensorMode[]): FoundArea {
  const { widthPx, heightPx } = raster;
  if (cameraModel === undefined) return superThirtyFive(raster, 'the camera is not on record');
  const name = folded(cameraModel);
  const ofCamera = modes.filter(({ models }) => models.some((model) => folded(model) === name));
  const fitting = ofCamera.filter((mode) => mode.widthPx === widthPx && mode.heightPx === heightPx).toSorted(compareModes);
  const [narrowest] = fitting;
  if (narrowest === undefined) {
    return superThirtyFive(raster, ofCamera.length === 0 ? `no sensor size is listed for ${cameraModel}` : `no mode of ${cameraModel} with ${widthPx} × ${heightPx} px is listed`);
  }
  const { area, mode, source } = narrowest;
  if (fitting.every((other) => sizeText(other.area) === sizeText(area))) return { kind: 'known', area, from: `${cameraModel}, ${mode}: ${sizeText(area)} (${source})` };
  const choices = fitting.map((other) => `${other.mode} ${sizeText(other.area)}`).join(' or ');
  return { kind: 'assumed', area, words: `${cameraModel} records ${widthPx} × ${heightPx} px from ${choices}: the narrower sensor is taken, which gives the larger figures` };
}

/** Modes with more laid over them: where both list a camera with one raster, only the added modes stand. */
export function layModesOver(added: readonly SensorMode[], modes: readonly SensorMode[]): readonly SensorMode[] {
  const isAdded = (model: string, { widthPx, heightPx }: SensorMode): boolean =>
    added.some((mode) => mode.widthPx === widthPx && mode.heightPx === heightPx && mode.models.some((other) => folded(other) === folded(model)));
  const rest = modes.map((mode) => ({ ...mode, models: mode.models.filter((model) => !isAdded(model, mode)) }));
  return [...added, ...rest.filter(({ models }) => models.length > 0)];
}

/** Narrowest first; the rest only so that the order of the table never matters. */
function compareModes(a: SensorMode, b: SensorMode): number {
  return a.area.widthMm - b.area.widthMm || a.area.heightMm - b.area.heightMm || (a.mode < b.mode ? -1 : Number(a.mode > b.mode));
}

function superThirtyFive({ widthPx, heightPx }: Pick<SensorMode, 'widthPx' | 'heightPx'>, why: string): FoundArea {
  const area = { widthMm: SUPER_35_WIDTH_MM, heightMm: (SUPER_35_WIDTH_MM * heightPx) / widthPx };
  return { kind: 'assumed', area, words: `${why}: the sensor is taken to be as wide as Super 35 film, ${SUPER_35_WIDTH_MM} mm (common practice)` };
}

function sizeText({ widthMm, heightMm }: SensorArea): string {
  return `${widthMm} × ${heightMm} mm`;
}

function folded(name: string): string {
  return name.normalize('NFC').toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '');
}
