import type { ReadClip } from '../../core/material/clip.ts';
import { nameStatements } from '../../formats/media/camera-name.ts';
import type { MediaFacts } from '../../formats/media/media-facts.ts';
import { problemsOf, statementsOf } from '../../formats/media/media-facts.ts';
import { readMedia } from '../../formats/media/media-kind.ts';
import type { FoundFile } from '../../ports.ts';
import type { ClipReading } from './clip-reading.ts';
import { askProbe, canBeJudged, completeFacts } from './complete-facts.ts';
import type { Readers } from './readers.ts';
import { isRaw } from './sort-files.ts';

/**
 * Reads one clip that is one file.
 * @throws {Error} when it cannot be opened, or no reader knows what it is.
 */
export async function readMovie(found: FoundFile, readers: Readers, signal: AbortSignal): Promise<ClipReading> {
  const open = await readers.store.open(found.path, signal);
  try {
    const own = await readMedia(open, found.file);
    const facts = own === undefined ? await askProbe(found.path, readers, signal) : await completeFacts(own, found.path, readers, signal);
    const changed = open.size !== found.sizeBytes || open.modifiedMs !== found.modifiedMs || (await open.hasChanged());
    const clip = clipOf(found, facts);
    return { clip, ends: [found], doubtful: clip.complete === true ? [] : [found], changed };
  } finally {
    await open.close();
  }
}

function clipOf({ file, sizeBytes }: FoundFile, facts: MediaFacts): ReadClip {
  const { completeness, frames } = facts;
  const usable = canBeJudged(completeness.condition);
  return {
    file,
    kind: isRaw(file) ? 'header-only' : 'movie',
    statements: [...statementsOf(facts, file), ...nameStatements(file)],
    tracks: [],
    ...(frames === undefined ? {} : { frames }),
    complete: completeness.complete,
    completeness: completeness.why,
    sizeBytes,
    decodable: usable && !isRaw(file) && !/\braw\b/i.test(facts.codec ?? ''),
    problems: problemsOf(facts, file),
    usable,
  };
}
