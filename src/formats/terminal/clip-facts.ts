import type { ClipOptics } from '../../core/checks/clip-optics.ts';
import type { Chosen, Clip } from '../../core/material/clip.ts';
import type { FrameTrack, Statement, Stop } from '../../core/material/statement.ts';
import { formatRate, rateName } from '../../core/timecode/rate.ts';
import { formatTimecode, shiftTimecode } from '../../core/timecode/timecode.ts';
import { compareText, sortedBy, tidyNumber } from '../report/order.ts';
import { sourceWords } from '../report/report-sources.ts';
import type { Ink } from './ink.ts';
import { inks } from './ink.ts';
import { opticsFacts } from './optics-facts.ts';
import type { TableOptions } from './table.ts';
import { visibleText } from './visible-text.ts';
import { pad, wrap } from './wrap.ts';

interface Fact {
  readonly name: string;
  readonly value: string;
  readonly from: string;
}

/** What one clip says of itself: the values gemel goes by with their sources, what they come to, then whatever else was stated, then what could not be read. */
export function formatClipFacts(clip: Clip, options: TableOptions, optics?: ClipOptics): string {
  const ink = inks(options.colour);
  const width = Math.max(40, options.width);
  const chosen = chosenFacts(clip);
  const blocks = [
    [ink.strong(visibleText(clip.file)), ...wrap(`${KIND_WORDS[clip.kind]}; ${COMPLETE_WORDS[String(clip.complete)] ?? ''}: ${visibleText(clip.completeness)}`, width - 2).map((line) => `  ${line}`)],
    factLines(chosen, width, ink),
    optics === undefined ? [] : opticsLines(optics, width, ink),
    otherLines(clip, width, ink),
    clip.problems.flatMap(({ code, place, found, expected, remedy }) =>
      hang('  ', `${code}${place === '' ? '' : `, ${place}`}: found ${found}, expected ${expected}. ${remedy}`, width),
    ),
  ];
  return `${blocks.filter((lines) => lines.length > 0).map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

const KIND_WORDS: Readonly<Record<Clip['kind'], string>> = { movie: 'movie', sequence: 'picture sequence', 'header-only': 'raw, header only: its pictures cannot be decoded here' };
const COMPLETE_WORDS: Readonly<Record<string, string>> = { true: 'complete', false: 'NOT complete', null: 'cannot be proved complete' };

function chosenFacts(clip: Clip): readonly Fact[] {
  const { lens, exposure, position, picture } = clip;
  const facts: Fact[] = [];
  const add = <T>(name: string, fact: Chosen<T> | undefined, words: (value: T) => string): void => {
    if (fact !== undefined) facts.push({ name, value: words(fact.value), from: sourceWords(fact.source) });
  };
  const stated = (name: string, value: string | undefined, ...fields: readonly Statement['field'][]): void => {
    if (value !== undefined && value !== '') facts.push({ name, value, from: firstSource(clip.statements, fields) });
  };
  stated('camera, roll, clip', [clip.camera, clip.roll, clip.clip].filter((part) => part !== undefined).join(' '), 'camera', 'roll', 'clip');
  stated('slate', clip.slate?.text, 'slate', 'scene', 'setup');
  stated('take', clip.slate?.take === undefined ? undefined : String(clip.slate.take), 'take', 'slate');
  if (clip.role !== 'unknown') facts.push({ name: 'pass', value: clip.role, from: clip.roleEvidence[0]?.words ?? '' });
  if (clip.start !== undefined) stated('TC of first frame', formatTimecode(clip.start), 'tcIn');
  if (clip.start !== undefined && clip.frames !== undefined && clip.frames > 0) {
    facts.push({ name: 'TC of last frame', value: formatTimecode(shiftTimecode(clip.start, clip.frames - 1)), from: 'first frame and length' });
  }
  stated('length', clip.frames === undefined ? undefined : `${clip.frames} frames`, 'frames');
  stated('file rate', clip.rate === undefined ? undefined : `${rateName(clip.rate)} fps (${formatRate(clip.rate)})`, 'fps');
  stated('sensor rate', clip.sensorRate === undefined ? undefined : `${rateName(clip.sensorRate)} fps`, 'sensorFps');
  stated('timecode rate', clip.timecodeRate === undefined ? undefined : `${rateName(clip.timecodeRate)} fps`, 'timecodeRate');
  add('lens', lens.model, plain);
  add('lens serial', lens.serial, plain);
  add('focal length', lens.focalLengthMm, (mm) => `${number(mm)} mm`);
  add('focus', lens.focusDistanceM, (m) => (Number.isFinite(m) ? `${number(m)} m` : 'infinity'));
  add('stop', lens.stop, stopWords);
  add('filters', lens.filters, ({ text, ndDensity }) => (ndDensity === undefined ? text : `${text} (density ${number(ndDensity)})`));
  add('squeeze', lens.squeeze, (squeeze) => `${number(squeeze)}×`);
  add('shutter', exposure.shutterDeg, (degrees) => `${number(degrees)}°`);
  add('EI', exposure.ei, number);
  add('white balance', exposure.whiteBalanceK, (kelvin) => `${number(kelvin)} K`);
  add('tint', exposure.tint, number);
  add('camera height', position.heightM, (m) => `${number(m)} m`);
  add('tilt', position.tiltDeg, (degrees) => `${number(degrees)}°`);
  add('roll', position.rollDeg, (degrees) => `${number(degrees)}°`);
  add('to subject', position.subjectDistanceM, (m) => `${number(m)} m`);
  add('to background', position.backgroundDistanceM, (m) => `${number(m)} m`);
  add('raster', picture.raster, ({ width, height }) => `${width} × ${height}`);
  add('codec', picture.codec, plain);
  add('camera body', picture.cameraModel, plain);
  add('body serial', picture.cameraSerial, plain);
  return [...facts, ...sequenceFacts(clip), ...clip.tracks.flatMap(trackFacts)];
}

function sequenceFacts({ sequence }: Clip): readonly Fact[] {
  if (sequence === undefined) return [];
  const holes = sequence.missing.map(({ start, end }) => (end - start === 1 ? String(start) : `${start} to ${end - 1}`));
  return [{ name: 'numbers', value: `${sequence.first} to ${sequence.last}${holes.length === 0 ? '' : `, missing ${holes.join(', ')}`}`, from: 'file names' }];
}

function trackFacts(track: FrameTrack): readonly Fact[] {
  return Object.entries(track.values)
    .toSorted(([a], [b]) => compareText(a, b))
    .map(([field, values]) => {
      const known = values.filter((value) => !Number.isNaN(value));
      const lowest = known.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
      const highest = known.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
      const value = known.length === 0 ? 'no value' : `${number(lowest)} to ${number(highest)} over ${known.length} frames`;
      return { name: `${field}, a frame`, value, from: sourceWords(track.source) };
    });
}

function firstSource(statements: readonly Statement[], fields: readonly Statement['field'][]): string {
  const found = fields.flatMap((field) => statements.filter((statement) => statement.field === field));
  return found[0] === undefined ? '' : sourceWords(found[0].source);
}

function factLines(facts: readonly Fact[], width: number, ink: Ink): readonly string[] {
  const nameWidth = Math.max(0, ...facts.map(({ name }) => name.length));
  const valueWidth = Math.min(32, Math.max(0, ...facts.map(({ value }) => value.length)));
  return facts.flatMap(({ name, value, from }) => {
    const head = `  ${pad(name, nameWidth)}  ${pad(visibleText(value), valueWidth)}  `;
    const room = width - head.length;
    if (room < 16) return [head.trimEnd(), ...wrap(visibleText(from), width - 6).map((line) => `      ${ink.faint(line)}`)];
    const [first = '', ...rest] = wrap(visibleText(from), room);
    return [`${head}${ink.faint(first)}`, ...rest.map((line) => ' '.repeat(head.length) + ink.faint(line))];
  });
}

/** What was worked out from the values above, each with what it rests on, and every assumption. */
function opticsLines(optics: ClipOptics, width: number, ink: Ink): readonly string[] {
  const { figures, notes } = opticsFacts(optics);
  return [ink.strong('  worked out from these'), ...factLines(figures, width, ink), ...notes.flatMap((note) => hang('    ', note, width))];
}

/** Where sources disagree, both are shown: a person may know which one is right. */
function otherLines({ disagreements }: Clip, width: number, ink: Ink): readonly string[] {
  if (disagreements.length === 0) return [];
  return [
    ink.doubtful('  sources disagree'),
    ...sortedBy(disagreements, ({ field }) => field).flatMap(({ field, chosen, other }) =>
      hang('    ', `${field}: "${visibleText(chosen.raw)}" (${sourceWords(chosen.source)}) is gone by; "${visibleText(other.raw)}" (${sourceWords(other.source)}) says otherwise`, width),
    ),
  ];
}

function hang(indent: string, text: string, width: number): readonly string[] {
  return wrap(visibleText(text), width - indent.length).map((line) => indent + line);
}

function number(value: number): string {
  return String(tidyNumber(value));
}

function plain(text: string): string {
  return text;
}

/** "T2.8", "f/4", or the bare number when nobody said which scale. */
function stopWords({ kind, number: value }: Stop): string {
  if (kind === 'unknown') return `${number(value)} (T or f not stated)`;
  return kind === 'T' ? `T${number(value)}` : `f/${number(value)}`;
}

