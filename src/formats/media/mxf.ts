import { formatRate, sameRate } from '../../core/timecode/rate.ts';
import type { Acquisition } from './acquisition.ts';
import type { ByteSource, Reader } from './byte-source.ts';
import type { Completeness, FoundProblem, FoundText, FoundValue, MediaFacts } from './media-facts.ts';
import { doubtful, found, mediaFacts, timecodeValues } from './media-facts.ts';
import { firstAcquisition } from './mxf-acquisition.ts';
import { operationalPatternName } from './mxf-codecs.ts';
import { completenessOf, findFooter } from './mxf-completeness.ts';
import { pictureDescription } from './mxf-descriptor.ts';
import { metadataTexts, partsNotUnderstood } from './mxf-extras.ts';
import type { Generation } from './mxf-packages.ts';
import { pictureGenerations } from './mxf-packages.ts';
import type { Partition } from './mxf-partition.ts';
import { findRunIn, partitionAt } from './mxf-partition.ts';
import type { HeaderMetadata } from './mxf-sets.ts';
import { readHeaderMetadata } from './mxf-sets.ts';
import { attempt, cutOff, readGuarded, unreadable } from './read-guarded.ts';

/**
 * What an MXF file says of itself (SMPTE ST 377-1): OP1a, OP-Atom and whatever else keeps its pictures under one material
 * package. Two or three reads. Never throws for what the file holds, only when the source itself cannot be read.
 */
export function readMxf(source: ByteSource): Promise<MediaFacts> {
  return readGuarded('mxf', source, readFile);
}

async function readFile(reader: Reader): Promise<MediaFacts> {
  const runIn = await findRunIn(reader);
  if (runIn === undefined) return unreadable('mxf', 'the file does not begin like MXF: no header partition in its first 64 KiB');
  const header = await partitionAt(reader, runIn);
  if (header === undefined) return cutOff('mxf', 'its header partition is cut off');
  const footer = await findFooter(reader, header, runIn);
  const completeness = completenessOf(header, footer, reader.size);
  const metadata = await bestMetadata(reader, header, footer.partition);
  // What travels with the pictures of a damaged body is no loss worth a word: the footer already tells.
  const acquisition = await attempt('data of the first picture', [], () => firstAcquisition(reader, header));
  return factsOf(header, metadata, completeness, acquisition ?? { values: [], texts: [] });
}

/** The header's metadata, or the footer's when the header was left incomplete and the footer repeats it. */
async function bestMetadata(reader: Reader, header: Partition, footer: Partition | undefined): Promise<HeaderMetadata> {
  const repeated = footer !== undefined && footer.headerBytes > 0 && !(header.metadataComplete && !header.open);
  const from = repeated ? footer : header;
  return readHeaderMetadata(reader, from.pack.end, from.headerBytes);
}

function factsOf(header: Partition, metadata: HeaderMetadata, completeness: Completeness, acquisition: Acquisition): MediaFacts {
  const generations = pictureGenerations(metadata);
  const picture = pictureDescription(metadata, header.essenceContainers);
  const problems: FoundProblem[] = [];
  const clock = bestClock(generations);
  for (const { timecode, what } of generations) {
    if (timecode?.falseDrop === true) problems.push(doubtful(what, 'a drop-frame flag at a rate without drop frame', 'drop frame only at 29.97, 59.94 and 119.88'));
  }
  if (picture.values.length === 0) problems.push(doubtful('header metadata', 'no picture descriptor', 'one'));
  const values = [...rateValues(generations, picture.rateValue), ...lengthValues(generations, picture.durationFrames), ...picture.values, ...clock.values, ...reelValues(generations), ...acquisition.values];
  const pattern: FoundText = { name: 'operational pattern', text: operationalPatternName(header.operationalPattern), place: 'header partition' };
  return mediaFacts({
    container: 'mxf',
    completeness,
    values,
    problems,
    texts: [pattern, ...names(generations), ...metadataTexts(metadata), ...acquisition.texts],
    notUnderstood: partsNotUnderstood(metadata),
    ...(clock.timecode === undefined ? {} : { timecode: clock.timecode }),
  });
}

/**
 * The timecode of the first generation that has one, a start at zero counting last: file packages often count from zero under a
 * material package that has the real code. Others that differ are stated too, so that the disagreement shows.
 */
function bestClock(generations: readonly Generation[]): { timecode?: NonNullable<MediaFacts['timecode']>; values: FoundValue[] } {
  const clocks = generations.flatMap(({ timecode, what }) => (timecode === undefined ? [] : [{ ...timecode, what }]));
  const running = clocks.filter(({ timecode }) => timecode.frame !== 0);
  const first = running[0] ?? clocks[0];
  if (first === undefined) return { values: [] };
  const others = running.filter(({ timecode }) => timecode.frame !== first.timecode.frame || timecode.format.drop !== first.timecode.format.drop);
  return { timecode: first.timecode, values: [first, ...others].flatMap(({ timecode, what, rate }) => timecodeValues(timecode, what, rate)) };
}

/** The edit rate of the picture, and the descriptor's own when it differs. */
function rateValues(generations: readonly Generation[], described: FoundValue | undefined): FoundValue[] {
  const top = generations.find(({ rate }) => rate !== undefined);
  if (top?.rate === undefined) return described === undefined ? [] : [described];
  const stated = found('fps', top.rate, formatRate(top.rate), `${top.what}, picture track`);
  const differs = described?.field === 'fps' && !sameRate(described.value, top.rate);
  return differs ? [stated, described] : [stated];
}

function lengthValues(generations: readonly Generation[], described: number | undefined): FoundValue[] {
  const top = generations.find(({ durationFrames }) => durationFrames !== undefined && durationFrames > 0);
  if (top?.durationFrames !== undefined) return [found('frames', top.durationFrames, String(top.durationFrames), `${top.what}, picture track`)];
  return described === undefined ? [] : [found('frames', described, String(described), 'picture descriptor')];
}

function reelValues(generations: readonly Generation[]): FoundValue[] {
  return generations.flatMap(({ physical, name, what }) => (physical && name !== undefined ? [found('reel', name, name, what)] : []));
}

function names(generations: readonly Generation[]): FoundText[] {
  return generations.flatMap(({ physical, name, what }) => (physical || name === undefined ? [] : [{ name: `${what} name`, text: name, place: what }]));
}
