import type { SequenceFacts } from '../../core/material/clip.ts';
import type { FrameRange } from '../../core/timecode/range.ts';

/** A picture's file name taken apart: `prefix` runs up to the digits, separator included; `extension` has its dot. */
export interface FrameName {
  readonly name: string;
  readonly prefix: string;
  /** Digits as written, without a sign. */
  readonly digits: string;
  readonly number: number;
  readonly extension: string;
}

/**
 * Pictures that belong together under one name. A sequence of one is one too. `facts` is absent for a still: a picture whose
 * name carries no frame number.
 */
export interface SequenceGroup {
  /** `name.####.ext`, one # a digit of padding; a still's own name. */
  readonly displayName: string;
  /** In order of their numbers. */
  readonly files: readonly { readonly name: string; readonly number: number }[];
  readonly facts?: SequenceFacts;
  /** Numbers that also occur with another padding: one of the two files is wrong, and nobody can tell which. */
  readonly duplicates: readonly number[];
}

const FRAME_NAME = /^(.*?)((?:(?<=^|[._])-)?\d+)(\.[^.]+)$/u;
const SEPARATOR_END = /[._-]$/u;
/** Digits that follow a letter directly count as a frame number from this length on: `plate0001.exr`, but not `take3.png`. */
const BARE_DIGITS = 3;
/** Longer runs are no frame numbers: they would not be exact. */
const MOST_DIGITS = 15;

/** The frame number of a picture's name: its last run of digits before the extension. Undefined when it has none. */
export function parseFrameName(name: string): FrameName | undefined {
  const [, prefix = '', signed = '', extension = ''] = FRAME_NAME.exec(name) ?? [];
  const digits = signed.replace('-', '');
  if (digits === '' || digits.length > MOST_DIGITS) return undefined;
  if (prefix !== '' && !SEPARATOR_END.test(prefix) && digits.length < BARE_DIGITS) return undefined;
  return { name, prefix, digits, number: Number(signed) + 0, extension };
}

/** What operating systems leave beside clips, and everything hidden: file-copying programs hide what they have begun, as rsync(1) its `.name.XXXXXX`. */
const CLUTTER = /^\.|^(?:thumbs\.db|desktop\.ini)$/iu;
/** Endings of files that are not whole yet, as manuals of programs that copy and fetch give them. */
const UNFINISHED = /\.(?:tmp|temp|part|partial|filepart|crdownload|opdownload|download|aria2)$/iu;
/** Copies and locks that programs keep while they write: `log.csv~`, `log.csv.~1~`, `~$log.csv`, `#log.csv#`, `log.csv.sb-1a2b3c4d-Xy12Zz`. */
const KEPT_ASIDE = /~$|^~\$|^#.*#$|\.sb-[0-9a-f]{8}-[a-z0-9]{6}$/iu;

/** Files beside clips that are none: what operating systems and half-done copies leave behind. */
export function isIgnoredName(name: string): boolean {
  return CLUTTER.test(name) || isUnfinishedName(name);
}

/** Whether a copy or a save that has not ended, or broke off, left a file of this name. */
export function isUnfinishedName(name: string): boolean {
  return UNFINISHED.test(name) || KEPT_ASIDE.test(name);
}

/** Groups the picture names of one folder into sequences and stills, sorted by display name. The order of the names does not matter. */
export function groupSequences(names: readonly string[]): SequenceGroup[] {
  const families = new Map<string, FrameName[]>();
  const stills: SequenceGroup[] = [];
  for (const name of new Set(names.filter((each) => !isIgnoredName(each)))) {
    const parsed = parseFrameName(name);
    if (parsed === undefined) stills.push({ displayName: name, files: [{ name, number: 0 }], duplicates: [] });
    else familyOf(families, `${parsed.prefix}/${parsed.extension}`).push(parsed);
  }
  const groups = [...stills, ...[...families.values()].flatMap(splitByPadding)];
  return groups.toSorted((a, b) => (a.displayName < b.displayName ? -1 : 1));
}

function familyOf(families: Map<string, FrameName[]>, key: string): FrameName[] {
  const family = families.get(key) ?? [];
  families.set(key, family);
  return family;
}

/** One sequence while every number occurs once, whatever the padding; one for each padding when numbers collide. */
function splitByPadding(family: readonly FrameName[]): SequenceGroup[] {
  const seen = new Set<number>();
  const twice = new Set<number>();
  for (const { number } of family) (seen.has(number) ? twice : seen).add(number);
  if (twice.size === 0) return [groupOf(family, paddingOf(family), [])];
  const paddings = [...new Set(family.filter(isPadded).map(({ digits }) => digits.length))].toSorted((a, b) => a - b);
  const members = new Map<number, FrameName[]>();
  for (const frame of family) {
    const padding = isPadded(frame) ? frame.digits.length : (paddings.findLast((each) => each <= frame.digits.length) ?? 1);
    members.set(padding, [...(members.get(padding) ?? []), frame]);
  }
  return [...members].map(([padding, frames]) => groupOf(frames, padding, frames.map(({ number }) => number).filter((number) => twice.has(number))));
}

/** The shortest run with leading zeros; without any, the shortest run: longer ones are overflow (`.%04d` gives 10000). */
function paddingOf(family: readonly FrameName[]): number {
  const padded = family.filter(isPadded);
  return (padded.length > 0 ? padded : family).reduce((least, { digits }) => Math.min(least, digits.length), MOST_DIGITS);
}

function isPadded({ digits }: FrameName): boolean {
  return digits.length > 1 && digits.startsWith('0');
}

function groupOf(frames: readonly FrameName[], padding: number, duplicates: readonly number[]): SequenceGroup {
  const sorted = frames.toSorted((a, b) => a.number - b.number || (a.name < b.name ? -1 : 1));
  const [{ prefix, extension } = { prefix: '', extension: '' }] = sorted;
  const numbers = sorted.map(({ number }) => number);
  return {
    displayName: `${prefix}${'#'.repeat(padding)}${extension}`,
    files: sorted.map(({ name, number }) => ({ name, number })),
    facts: { first: numbers[0] ?? 0, last: numbers.at(-1) ?? 0, padding, missing: holes(numbers) },
    duplicates: [...new Set(duplicates)].toSorted((a, b) => a - b),
  };
}

/** Runs of absent numbers between the first and the last, ends exclusive. */
function holes(numbers: readonly number[]): FrameRange[] {
  return numbers.slice(1).flatMap((number, index) => {
    const start = (numbers[index] ?? number) + 1;
    return number > start ? [{ start, end: number }] : [];
  });
}
