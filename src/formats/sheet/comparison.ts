import { exactStop, stopDifference } from '../../core/optics/exposure.ts';
import type { Chosen, Clip } from '../../core/material/clip.ts';
import type { Source } from '../../core/material/statement.ts';
import { formatRate, rateAsNumber, rateName } from '../../core/timecode/rate.ts';
import { NOT_ON_RECORD, roleName, shortName } from './clip-words.ts';
import type { Cell, Table } from './content.ts';
import { differenceWords, filterWords, metresWords, numberWords, rasterWords, stopWords } from './value-words.ts';

/** One line of the comparison: how a value reads, and how far a pass is from the lead, in the value's own unit. */
export interface Property {
  readonly name: string;
  readonly of: (clip: Clip) => Value | undefined;
}

/** `difference` is empty when both are the same. */
interface Value {
  readonly text: string;
  readonly source: Source | undefined;
  readonly difference: (lead: Value) => string;
  readonly number?: number;
}

type Numbered = (value: number, lead: number) => string;

const natural = (digits: number, unit: string, scale = 1): Numbered => (value, lead) => differenceWords((value - lead) * scale, digits, unit);
const inStops: Numbered = (value, lead) => differenceWords(Math.log2(value / lead), 2, 'stops');

function numeric(chosen: Chosen<number> | undefined, words: (value: number) => string, difference: Numbered): Value | undefined {
  return chosen === undefined ? undefined : measured(chosen.value, words(chosen.value), chosen.source, difference);
}

function measured(number: number, text: string, source: Source | undefined, difference: Numbered): Value {
  return {
    text, source, number,
    difference: (lead) => {
      if (lead.number === undefined || lead.number === number) return '';
      return Number.isFinite(lead.number) && Number.isFinite(number) ? difference(number, lead.number) : 'differs';
    },
  };
}

function worded<T>(chosen: Chosen<T> | undefined, words: (value: T) => string): Value | undefined {
  if (chosen === undefined) return undefined;
  const text = words(chosen.value);
  return { text, source: chosen.source, difference: (lead) => (lead.text === text ? '' : 'differs') };
}

const itself = (value: string): string => value;
const withUnit = (digits: number, unit: string) => (value: number): string => `${numberWords(value, digits)}${unit}`;

function stopOf({ lens }: Clip): Value | undefined {
  if (lens.stop === undefined) return undefined;
  const { kind, number } = lens.stop.value;
  const stop = measured(number, stopWords(lens.stop.value), lens.stop.source, lightWords);
  const sameScale = (lead: Value): boolean => lead.text.startsWith(kind === 'T' ? 'T' : kind === 'f' ? 'f' : '');
  return { ...stop, difference: (lead) => (sameScale(lead) ? stop.difference(lead) : 'another scale') };
}

/** "1 stop darker": a larger number lets less light through. */
function lightWords(value: number, lead: number): string {
  if (!(value > 0) || !(lead > 0)) return 'differs';
  const stops = stopDifference(exactStop(lead), exactStop(value));
  const words = differenceWords(Math.abs(stops), 2, 'stops').replace('+', '');
  return words === '=' ? '=' : `${words} ${stops < 0 ? 'darker' : 'brighter'}`;
}

/** What is compared, in the order a camera assistant sets it. */
export const PROPERTIES: readonly Property[] = [
  { name: 'Lens', of: ({ lens }) => worded(lens.model, itself) },
  { name: 'Lens serial', of: ({ lens }) => worded(lens.serial, itself) },
  { name: 'Focal length', of: ({ lens }) => numeric(lens.focalLengthMm, withUnit(2, ' mm'), natural(2, 'mm')) },
  { name: 'Focus distance', of: ({ lens }) => numeric(lens.focusDistanceM, metresWords, natural(3, 'm')) },
  { name: 'Stop', of: stopOf },
  { name: 'Filters', of: ({ lens }) => worded(lens.filters, filterWords) },
  { name: 'Squeeze', of: ({ lens }) => numeric(lens.squeeze, withUnit(3, ' ×'), natural(3, '×')) },
  { name: 'EI', of: ({ exposure }) => numeric(exposure.ei, withUnit(0, ''), inStops) },
  { name: 'White balance', of: ({ exposure }) => numeric(exposure.whiteBalanceK, withUnit(0, ' K'), natural(0, 'K')) },
  { name: 'Tint', of: ({ exposure }) => numeric(exposure.tint, withUnit(2, ''), natural(2, 'tint')) },
  { name: 'Shutter', of: ({ exposure }) => numeric(exposure.shutterDeg, withUnit(2, '°'), natural(2, '°')) },
  {
    name: 'Frame rate',
    of: ({ rate }) => (rate === undefined ? undefined : measured(rateAsNumber(rate), `${rateName(rate)} fps (${formatRate(rate)})`, undefined, natural(3, 'fps'))),
  },
  { name: 'Sensor rate', of: ({ sensorRate }) => (sensorRate === undefined ? undefined : measured(rateAsNumber(sensorRate), `${rateName(sensorRate)} fps`, undefined, natural(3, 'fps'))) },
  { name: 'Camera height', of: ({ position }) => numeric(position.heightM, metresWords, natural(0, 'mm', 1000)) },
  { name: 'Tilt', of: ({ position }) => numeric(position.tiltDeg, withUnit(2, '°'), natural(2, '°')) },
  { name: 'Roll', of: ({ position }) => numeric(position.rollDeg, withUnit(2, '°'), natural(2, '°')) },
  { name: 'Subject distance', of: ({ position }) => numeric(position.subjectDistanceM, metresWords, natural(0, 'mm', 1000)) },
  { name: 'Background distance', of: ({ position }) => numeric(position.backgroundDistanceM, metresWords, natural(0, 'mm', 1000)) },
  { name: 'Raster', of: ({ picture }) => worded(picture.raster, rasterWords) },
  { name: 'Codec', of: ({ picture }) => worded(picture.codec, itself) },
  { name: 'Camera', of: ({ picture }) => worded(picture.cameraModel, itself) },
  { name: 'Camera serial', of: ({ picture }) => worded(picture.cameraSerial, itself) },
];

/** A pass to compare, and the role it has beside this lead. */
export interface ComparedPass {
  readonly clip: Clip;
  readonly role: Clip['role'];
}

/**
 * Lens and camera of the passes beside those of the lead, the first of them. A value carries the number of its source in
 * `sources`; differences stand in the value's own unit. What nobody states has no row: see `notOnRecord`.
 */
export function comparisonTable(passes: readonly ComparedPass[], sources: SourceList): Table {
  return {
    columns: [
      { heading: '', share: 1.1 },
      ...passes.map(({ clip, role }) => ({ heading: `${roleName(role)}\n${shortName(clip)}`, share: 1.5 })),
    ],
    rows: PROPERTIES.filter((property) => isStated(property, passes)).map((property) => comparedRow(property, passes, sources)),
  };
}

/** The properties nobody states for any of the passes, by name. */
export function notOnRecord(passes: readonly ComparedPass[]): readonly string[] {
  return PROPERTIES.filter((property) => !isStated(property, passes)).map(({ name }) => name);
}

function isStated({ of }: Property, passes: readonly ComparedPass[]): boolean {
  return passes.some(({ clip }) => of(clip) !== undefined);
}

function comparedRow({ name, of }: Property, passes: readonly ComparedPass[], sources: SourceList): readonly Cell[] {
  const [lead] = passes;
  const leadValue = lead === undefined ? undefined : of(lead.clip);
  return [
    { text: name, tone: 'faint' },
    ...passes.map(({ clip }, index): Cell => {
      const value = of(clip);
      if (value === undefined) return { text: NOT_ON_RECORD, tone: 'faint' };
      const difference = index === 0 || leadValue === undefined ? '' : value.difference(leadValue);
      const text = `${value.text}${value.source === undefined ? '' : ` ${sources.markOf(value.source, clip)}`}`;
      return difference === '' || difference === '=' ? { text } : { text, tone: 'strong', differs: true, note: difference };
    }),
  ];
}

/** Numbers the places values came from, in the order they are met. */
export class SourceList {
  readonly #marks = new Map<string, number>();

  /** "[2]", the number of this source; the clip's own file has one number for all clips. */
  markOf(source: Source, clip: Clip): string {
    const words = sourceName(source, clip);
    const known = this.#marks.get(words) ?? this.#marks.size + 1;
    this.#marks.set(words, known);
    return `[${known}]`;
  }

  /** "[1] the clip itself", one line a source. */
  lines(): readonly string[] {
    return [...this.#marks].map(([words, number]) => `[${number}] ${words}`);
  }
}

function sourceName({ kind, file, place }: Source, clip: Clip): string {
  if (kind === 'embedded' || file === clip.file) return kind === 'name' ? 'the file name' : 'the clip itself';
  // The row of a table, the whole of a sidecar, is enough to find it again; which column or element, the line of the table says.
  const row = kind === 'sidecar' ? '' : (/^line \d+/.exec(place)?.[0] ?? place);
  return row === '' ? file : `${file}, ${row}`;
}
