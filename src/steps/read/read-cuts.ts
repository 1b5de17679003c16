import type { ReadClip } from '../../core/material/clip.ts';
import type { Cut, CutEvent } from '../../core/material/cut-event.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import { overlap } from '../../core/timecode/range.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { formatRate, frameRate, rateName } from '../../core/timecode/rate.ts';
import { parseEdl } from '../../formats/edl/parse-edl.ts';
import { parseOtio } from '../../formats/otio/parse-otio.ts';
import { decodeText } from '../../formats/tables/decode-text.ts';
import type { FoundFile } from '../../ports.ts';
import { withinTime } from './bounded.ts';
import type { ReadOptions, ReadPorts } from './read-options.ts';
import { extensionOf, nameOf } from './sort-files.ts';
import { explain, fileProblem } from './unusable.ts';

/** The cuts of a day, and what was wrong with their files. */
export interface CutsRead {
  readonly cuts: readonly Cut[];
  readonly problems: readonly ReadingProblem[];
}

type CutFile = Pick<FoundFile, 'path' | 'file'>;

const CUT_BYTES = 64 * 1024 * 1024;
const LIMIT_MS = 60_000;
/** Where neither the show nor any clip tells a rate. */
const ANY_RATE = frameRate(24);

/**
 * Reads the cuts that were asked for by name; without any, the one that lies among the media. Several that are not tracks of one
 * cut are none: which of them is meant nobody can know.
 */
export async function readCuts(found: readonly FoundFile[], clips: readonly ReadClip[], ports: ReadPorts, options: ReadOptions, signal: AbortSignal): Promise<CutsRead> {
  const named = options.cuts ?? [];
  const files = named.length === 0 ? found : named.map((path): CutFile => found.find((one) => one.path === path) ?? { path, file: nameOf(path.replaceAll('\\', '/')) });
  const rate = options.baseRate ?? commonRate(clips);
  const cuts: Cut[] = [];
  const problems: ReadingProblem[] = [];
  for (const { path, file } of files) {
    try {
      const bytes = await withinTime(LIMIT_MS, signal, async (limited) => ports.store.readWhole(path, CUT_BYTES, limited));
      const { text } = decodeText(bytes);
      cuts.push(extensionOf(file) === 'otio' ? parseOtio(text, { file }) : parseEdl(text, { file, rate: rate ?? ANY_RATE }));
    } catch (failure) {
      signal.throwIfAborted();
      const problem = fileProblem(file, 'unreadable-file', 'warn', { expected: 'a cut that can be read', ...explain(failure) });
      cuts.push({ file, rate: ANY_RATE, format: { base: 24, drop: false }, events: [], gaps: [], skipped: 1, unread: [{ problem, markers: [], comments: [] }], problems: [problem] });
    }
  }
  problems.push(...cuts.flatMap((cut) => cut.problems));
  if (options.baseRate === undefined) problems.push(...cuts.filter(({ file, events }) => isEdl(file) && events.length > 0).map((cut) => rateAssumed(cut, rate)));
  const usable = cuts.filter(({ events }) => events.length > 0);
  // A cut that cannot be read is not forgotten: nobody may think that its shots were dropped.
  if (named.length > 0 || isOneCut(usable)) return { cuts: cuts.filter(({ events, unread = [] }) => events.length + unread.length > 0), problems };
  return { cuts: [], problems: [...problems, ...usable.map((cut) => notAsked(cut, usable))] };
}

/** The rate that most clips play at; of equals the one that sorts first, so that the order of files never matters. */
function commonRate(clips: readonly ReadClip[]): FrameRate | undefined {
  const counts = new Map<string, { readonly rate: FrameRate; count: number }>();
  for (const { statements } of clips) {
    const rate = statements.find(({ field }) => field === 'fps')?.value;
    if (typeof rate !== 'object' || !('num' in rate)) continue;
    const entry = counts.get(formatRate(rate)) ?? { rate, count: 0 };
    entry.count += 1;
    counts.set(formatRate(rate), entry);
  }
  return [...counts].toSorted(([a, first], [b, second]) => second.count - first.count || (a < b ? -1 : 1))[0]?.[1].rate;
}

/** One file; or edit lists named alike but for their track, of which no two show the same source at the same place, as versions would. */
function isOneCut(cuts: readonly Cut[]): boolean {
  if (cuts.length < 2) return true;
  const stems = new Set(cuts.map(({ file }) => file.replace(/\.edl$/iu, '').replace(/[\s._-]*(?:V|TRACK|TRK)[\s._-]?\d{1,2}$/iu, '').toLowerCase()));
  if (stems.size > 1 || !cuts.every(({ file }) => isEdl(file))) return false;
  return cuts.every((cut, index) => cuts.slice(index + 1).every((other) => !sharesSource(cut, other)));
}

function sharesSource(a: Cut, b: Cut): boolean {
  const bySource = new Map<string, CutEvent[]>();
  for (const event of b.events) bySource.set(sourceOf(event), [...(bySource.get(sourceOf(event)) ?? []), event]);
  return a.events.some((event) => (bySource.get(sourceOf(event)) ?? []).some((other) => overlap(event.record, other.record) !== undefined));
}

function sourceOf({ reel, clipName, sourceFile }: CutEvent): string {
  return JSON.stringify([reel, clipName, sourceFile]);
}

function isEdl(file: string): boolean {
  return extensionOf(file) === 'edl';
}

function rateAssumed({ file }: Cut, rate: FrameRate | undefined): ReadingProblem {
  const taken = rate === undefined ? 'read at 24 fps, which is assumed' : `read at ${rateName(rate)} fps, the rate of most clips, which is assumed`;
  return fileProblem(file, 'unreadable-value', 'note', { found: 'an edit list carries no frame rate', expected: taken, remedy: 'Say the rate it was cut at: base_rate in the pipeline file.' });
}

function notAsked({ file }: Cut, all: readonly Cut[]): ReadingProblem {
  return fileProblem(file, 'unused-row', 'warn', {
    found: `one of ${all.length} cuts among the media`,
    expected: 'one cut, or the name of the one that counts; none of them is used',
    remedy: 'Name it: --cut FILE, or cut in the pipeline file.',
  });
}
