import { parseLabel } from '../../core/timecode/timecode.ts';
import type { TimecodeFormat } from '../../core/timecode/timecode.ts';
import type { WrittenEvent } from '../edl/format-edl.ts';
import { edlReels, formatEdl } from '../edl/format-edl.ts';
import { syncWords } from '../report/sync-words.ts';
import { formatCsv } from '../tables/inert-cell.ts';
import type { ShotFile, ShotPass } from './shot-file.ts';

/** How the labels of each pass count; undefined for a pass without timecode, or whose labels do not count single frames. */
export type LabelFormatOf = (pass: ShotPass) => TimecodeFormat | undefined;

/** An hour in, as lists customarily begin. */
const FIRST_RECORD_HOUR = 1;

/**
 * The pull as a CMX 3600 list: one event a pass, laid end to end from 01:00:00:00, so that no two lie over each other. Only passes
 * whose timecode counts as the first one's does can stand in it; the CSV holds them all. Undefined when none can.
 */
export function formatPullEdl(shot: ShotFile, formatOf: LabelFormatOf): string | undefined {
  const format = shot.passes.map(formatOf).find((found) => found !== undefined);
  if (format === undefined) return undefined;
  let record = parseLabel(`${String(FIRST_RECORD_HOUR).padStart(2, '0')}:00:00:00`, format).frame;
  const events: WrittenEvent[] = [];
  for (const pass of passesInList(shot, formatOf)) {
    const own = formatOf(pass);
    const { source } = pass;
    if (own === undefined || source === null || source.timecodeFirst === null) continue;
    const start = parseLabel(source.timecodeFirst, own).frame;
    const length = source.last - source.first + 1;
    events.push({
      reel: sourceReel(pass),
      source: { start, end: start + length },
      sourceDrop: own.drop,
      record: { start: record, end: record + length },
      clipName: shortName(pass),
      sourceFile: pass.clip,
      comments: [`${shot.shot} ${pass.role}, frames ${pass.numbers?.first ?? 0} to ${pass.numbers?.last ?? 0}`],
    });
    record += length;
  }
  return events.length === 0 ? undefined : formatEdl({ title: `${shot.shot} pull`, format, events });
}

const HEADINGS = [
  'shot', 'pass', 'clip', 'reel', 'slate', 'first_frame', 'last_frame', 'frames', 'source_first', 'source_last', 'tc_first', 'tc_last', 'fps', 'lies', 'offset', 'sync', 'missing', 'frames_delivered', 'notes',
];

/** The pull as CSV, a row a pass; first and last are both in. Reels are those of the list: a pass that could not stand in it gets the next free one. */
export function formatPullCsv(shot: ShotFile, formatOf: LabelFormatOf): string {
  const inList = passesInList(shot, formatOf);
  const reels = edlReels([...inList, ...shot.passes.filter((pass) => !inList.includes(pass))].map(sourceReel));
  return formatCsv([HEADINGS, ...shot.passes.map((pass) => pullRow(shot, pass, reels.get(sourceReel(pass)) ?? ''))]);
}

function sourceReel(pass: ShotPass): string {
  return pass.reel ?? shortName(pass);
}

/** Passes whose timecode counts as the first one's does. */
function passesInList({ passes }: ShotFile, formatOf: LabelFormatOf): readonly ShotPass[] {
  const base = passes.map(formatOf).find((found) => found !== undefined)?.base;
  return passes.filter((pass) => base !== undefined && formatOf(pass)?.base === base && typeof pass.source?.timecodeFirst === 'string');
}

function pullRow(shot: ShotFile, pass: ShotPass, reel: string): readonly string[] {
  const { numbers, source } = pass;
  const missing = pass.missing.map(({ first, last, part }) => `${runWords(first, last)} (${part})`).join('; ');
  return [
    shot.shot, pass.role, pass.clip, reel, pass.slate ?? '', numbers === null ? '' : String(numbers.first), numbers === null ? '' : String(numbers.last),
    numbers === null ? '0' : String(numbers.last - numbers.first + 1), source === null ? '' : String(source.first), source === null ? '' : String(source.last),
    source?.timecodeFirst ?? '', source?.timecodeLast ?? '', pass.rate ?? '', pass.lies, String(pass.sync.offset), syncWords(pass.sync.method, pass.sync.confidence, pass.lies !== 'in sync'), missing,
    pass.pictures === null ? '0' : String(pass.pictures.count), [pass.retime ?? '', pass.notDelivered ?? ''].filter((part) => part !== '').join('; '),
  ];
}

/** "1001-1004", "1001". */
export function runWords(first: number, last: number): string {
  return first === last ? String(first) : `${first}-${last}`;
}

function shortName({ clip }: ShotPass): string {
  return clip.slice(clip.lastIndexOf('/') + 1);
}
