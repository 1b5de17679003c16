import type { Field } from '../../core/material/statement.ts';
import { parseExiftoolTags } from '../../formats/media/exiftool-tags.ts';
import type { FoundText, FoundValue, MediaFacts } from '../../formats/media/media-facts.ts';
import { mediaFacts } from '../../formats/media/media-facts.ts';
import { parseProbe } from '../../formats/media/probe-json.ts';
import { readCell } from '../../formats/values/field.ts';
import { readHeading } from '../../formats/values/heading-unit.ts';
import type { Readers } from './readers.ts';

/**
 * Adds to what a clip's own header says: what ffprobe knows where the header does not say all, what ExifTool knows where the
 * file carries metadata that the header reader leaves alone, and what the file's named texts say. The header's word comes first.
 */
export async function completeFacts(own: MediaFacts, path: string, readers: Readers, signal: AbortSignal): Promise<MediaFacts> {
  const probed = needsProbe(own) ? await askProbe(path, readers, signal).catch(() => undefined) : undefined;
  signal.throwIfAborted();
  const known = addValues(own, probed?.values ?? [], probed?.texts ?? []);
  const tagged = needsTags(known) ? await askTags(path, readers, signal).catch(() => []) : [];
  signal.throwIfAborted();
  const full = addValues(known, tagged, []);
  return addValues(full, valuesOfTexts(full.texts, readers), []);
}

/** @throws {Error} when there is no ffprobe or it cannot read the file. */
export async function askProbe(path: string, { probe, others }: Readers, signal: AbortSignal): Promise<MediaFacts> {
  if (probe === undefined) throw new Error('a kind of movie that only ffprobe reads, and there is no ffprobe');
  return parseProbe(await others(async () => probe.probe(path, signal)));
}

/** Whether a clip leaves open what every movie has. MOV and MP4 keep timecode where the header reader looks. */
function needsProbe({ container, completeness, frames, rate, averageRate, raster, timecode }: MediaFacts): boolean {
  if (!canBeJudged(completeness.condition)) return false;
  const lacks = raster === undefined || (rate ?? averageRate) === undefined || frames === undefined;
  return container === 'mxf' ? lacks || timecode === undefined : lacks && (container === 'mov' || container === 'mp4');
}

function needsTags({ moreMetadata, completeness }: MediaFacts): boolean {
  return moreMetadata && canBeJudged(completeness.condition);
}

/** Whether a clip in this condition can be matched and judged at all. */
export function canBeJudged(condition: MediaFacts['completeness']['condition']): boolean {
  return condition === 'whole' || condition === 'unverified';
}

async function askTags(path: string, { tags, others }: Readers, signal: AbortSignal): Promise<readonly FoundValue[]> {
  return tags === undefined ? [] : parseExiftoolTags(await others(async () => tags.tags(path, signal)));
}

/** What the file's named texts say, read as one reads a report: the name is the heading. A text that is no value of its field says nothing. */
function valuesOfTexts(texts: readonly FoundText[], { headings }: Readers): readonly FoundValue[] {
  return texts.flatMap(({ name, text, place }) => {
    const { field, unit } = readHeading(name.slice(Math.max(name.lastIndexOf('/'), name.lastIndexOf(':')) + 1), headings);
    if (field === undefined) return [];
    const { statements } = readCell(field, text, unit, { kind: 'embedded', file: '', place });
    return statements.map(({ source: _source, ...value }) => ({ ...value, place }));
  });
}

/** Adds values of fields that nothing has been said of yet: the reader that came before is the more exact one. */
function addValues(facts: MediaFacts, values: readonly FoundValue[], texts: readonly FoundText[]): MediaFacts {
  const stated = new Set<Field>(facts.values.map(({ field }) => field));
  const added = values.filter(({ field }) => !stated.has(field));
  return added.length === 0 && texts.length === 0 ? facts : mediaFacts({ ...facts, values: [...facts.values, ...added], texts: [...facts.texts, ...texts] });
}
