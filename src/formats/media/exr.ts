import type { Field, FieldValues } from '../../core/material/statement.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { formatRate } from '../../core/timecode/rate.ts';
import type { WordFacts } from './bcd-timecode.ts';
import { wordFacts } from './bcd-timecode.ts';
import type { ByteSource, Reader } from './byte-source.ts';
import { u32 } from './bytes.ts';
import type { ExrValue } from './exr-attributes.ts';
import { readValues, sizeOf, valueText } from './exr-attributes.ts';
import { exrCompleteness } from './exr-completeness.ts';
import { EXR_MAGIC, readExrHeader } from './exr-header.ts';
import type { FoundProblem, FoundText, FoundValue, MediaFacts } from './media-facts.ts';
import { doubtful, found, mediaFacts, present } from './media-facts.ts';
import { cutOff, readGuarded, unreadable } from './read-guarded.ts';
import { shotDay } from './shot-day.ts';

/** What an OpenEXR picture says of itself ("OpenEXR File Layout", "Standard Optional Attributes"), one part or several. */
export function readExr(source: ByteSource): Promise<MediaFacts> {
  return readGuarded('exr', source, readPicture);
}

type Values = ReadonlyMap<string, ExrValue>;

async function readPicture(reader: Reader): Promise<MediaFacts> {
  if (reader.size < 8) return unreadable('exr', 'the file does not begin like OpenEXR');
  if (u32(await reader.look(0, 4), 0, true) !== EXR_MAGIC) return unreadable('exr', 'the file does not begin like OpenEXR');
  const header = await readExrHeader(reader);
  const values = await readValues(reader, header);
  if (!values.has('displayWindow') && !values.has('dataWindow')) return cutOff('exr', 'its header names no picture window');
  const problems: FoundProblem[] = [];
  const clock = clockFacts(values);
  return mediaFacts({
    container: 'exr',
    completeness: await exrCompleteness(reader, header),
    values: [...rateValues(values), ...pictureValues(values), ...clock.values, ...lensValues(values, problems), ...cameraValues(values, problems)],
    texts: textsOf(values),
    problems: [...clock.problems, ...problems],
    ...present({ timecode: clock.timecode }),
  });
}

function place(name: string): string {
  return `EXR attribute ${name}`;
}

function rateOf(values: Values, name: string): FrameRate | undefined {
  const value = values.get(name);
  return value?.kind === 'rate' ? value.rate : undefined;
}

function rateValues(values: Values): FoundValue[] {
  const rates = [
    ['fps', 'framesPerSecond'],
    ['sensorFps', 'captureRate'],
  ] as const;
  return rates.flatMap(([field, name]) => {
    const rate = rateOf(values, name);
    return rate === undefined ? [] : [found(field, rate, formatRate(rate), place(name))];
  });
}

function clockFacts(values: Values): WordFacts {
  const value = values.get('timeCode');
  // Zero on every frame is what writers leave when they have no timecode; on one frame alone it cannot be told from midnight.
  if (value?.kind !== 'timecode' || value.word === 0) return { values: [], problems: [] };
  return wordFacts(value.word, rateOf(values, 'framesPerSecond'), place('timeCode'));
}

/** Codings by number of the `compression` attribute. */
const COMPRESSIONS = ['uncompressed', 'RLE', 'ZIPS', 'ZIP', 'PIZ', 'PXR24', 'B44', 'B44A', 'DWAA', 'DWAB'];

function pictureValues(values: Values): FoundValue[] {
  const facts: FoundValue[] = [];
  const name = values.has('displayWindow') ? 'displayWindow' : 'dataWindow';
  const window = values.get(name);
  const raster = window?.kind === 'box' ? sizeOf(window.box) : undefined;
  if (raster !== undefined) facts.push(found('raster', raster, `${raster.width}x${raster.height}`, place(name)));
  const coding = values.get('compression');
  if (coding?.kind === 'byte') facts.push(found('codec', `OpenEXR ${COMPRESSIONS[coding.byte] ?? ''}`.trim(), String(coding.byte), place('compression')));
  const aspect = values.get('pixelAspectRatio');
  // One is also what writers leave when they do not know; anything near a squeeze is one.
  if (aspect?.kind === 'number' && aspect.number > 1.2 && aspect.number < 3) facts.push(found('squeeze', aspect.number, String(aspect.number), place('pixelAspectRatio')));
  return facts;
}

/** Barrel figure first, then the computed ones: only the first that is there counts as the focal length. */
const FOCAL_LENGTHS = ['nominalFocalLength', 'effectiveFocalLength', 'pinholeFocalLength'];

function lensValues(values: Values, problems: FoundProblem[]): FoundValue[] {
  const focalLength = FOCAL_LENGTHS.find((name) => values.has(name));
  return [
    ...joined(values, 'lens', ['lensMake', 'lensModel']),
    ...joined(values, 'lensSerial', ['lensSerialNumber']),
    ...(focalLength === undefined ? [] : measured(values, problems, 'focalLength', focalLength, (mm) => mm)),
    ...measured(values, problems, 'focusDistance', 'focus', (metres) => metres),
    ...measured(values, problems, 'stop', 'tStop', (number) => ({ kind: 'T', number })),
    ...measured(values, problems, 'stop', 'aperture', (number) => ({ kind: 'f', number })),
  ];
}

function cameraValues(values: Values, problems: FoundProblem[]): FoundValue[] {
  return [
    ...measured(values, problems, 'shutter', 'shutterAngle', (degrees) => ({ kind: 'angle', degrees })),
    ...measured(values, problems, 'shutter', 'expTime', (seconds) => ({ kind: 'time', seconds })),
    ...measured(values, problems, 'ei', 'isoSpeed', (iso) => iso),
    ...measured(values, problems, 'whiteBalance', 'cameraCCTSetting', (kelvin) => kelvin),
    ...tintValues(values),
    ...joined(values, 'cameraModel', ['cameraMake', 'cameraModel']),
    ...joined(values, 'cameraSerial', ['cameraSerialNumber']),
    ...joined(values, 'reel', ['reelName']),
    ...dayValues(values),
    ...letterValues(values),
  ];
}

function dayValues(values: Values): FoundValue[] {
  const taken = values.get('capDate');
  return taken?.kind === 'text' ? shotDay(taken.text, place('capDate')) : [];
}

/** The camera letter, where the label is one ("A", "A camera", "B-cam"). */
function letterValues(values: Values): FoundValue[] {
  const label = values.get('cameraLabel');
  const letter = label?.kind === 'text' ? /^([A-Z])(?:[\s_-]*cam(?:era)?)?$/iu.exec(label.text)?.[1] : undefined;
  return letter === undefined || label?.kind !== 'text' ? [] : [found('camera', letter.toUpperCase(), label.text, place('cameraLabel'))];
}

/** A number above 0. Zero is "unset" and says nothing; focus may be infinite; anything else is a problem. */
function measured<F extends Field>(values: Values, problems: FoundProblem[], field: F, name: string, of: (value: number) => FieldValues[F]): FoundValue[] {
  const value = values.get(name);
  if (value === undefined || (value.kind === 'number' && value.number === 0)) return [];
  const sound = value.kind === 'number' && value.number > 0 && (value.number !== Infinity || field === 'focusDistance');
  if (sound) return [found(field, of(value.number), String(value.number), place(name))];
  problems.push(doubtful(place(name), valueText(value) ?? value.kind, 'a number above 0'));
  return [];
}

/** Tint runs through zero, so zero is a value. */
function tintValues(values: Values): FoundValue[] {
  const value = values.get('cameraTintSetting');
  return value?.kind === 'number' && Number.isFinite(value.number) ? [found('tint', value.number, String(value.number), place('cameraTintSetting'))] : [];
}

/** Texts one after the other, a maker left out when the model already begins with it. */
function joined(values: Values, field: 'lens' | 'lensSerial' | 'cameraModel' | 'cameraSerial' | 'reel', names: readonly string[]): FoundValue[] {
  const texts = names.map((name) => values.get(name)).map((value) => (value?.kind === 'text' ? value.text.replace(/\s+/gu, ' ') : ''));
  const last = texts.at(-1) ?? '';
  if (last === '') return [];
  const before = texts.slice(0, -1).filter((text) => text !== '' && !last.toLowerCase().startsWith(text.toLowerCase()));
  const text = [...before, last].join(' ');
  return [found(field, text, text, place(names.at(-1) ?? ''))];
}

/** Attributes that became values above, or describe the coding of the picture. */
const KNOWN = new Set([
  'pixelAspectRatio', 'screenWindowWidth', 'name', 'type', 'chunkCount', 'version', 'framesPerSecond', 'captureRate', 'nominalFocalLength',
  'focus', 'tStop', 'aperture', 'shutterAngle', 'expTime', 'isoSpeed', 'cameraCCTSetting', 'cameraTintSetting', 'lensMake', 'lensModel',
  'lensSerialNumber', 'cameraMake', 'cameraModel', 'cameraSerialNumber', 'reelName', 'capDate',
]);

/** Everything else that is a text or a number, for whoever knows its writer; units are not guessed. */
function textsOf(values: Values): FoundText[] {
  return [...values].flatMap(([name, value]) => {
    const text = KNOWN.has(name) ? undefined : valueText(value);
    return text === undefined || text === '' ? [] : [{ name, text, place: place(name) }];
  });
}
