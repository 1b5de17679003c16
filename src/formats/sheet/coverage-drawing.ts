import type { JudgedSet } from '../../core/checks/judged.ts';
import type { NeededRange, PassCoverage } from '../../core/coverage/coverage.ts';
import type { Clip, Role } from '../../core/material/clip.ts';
import type { FrameRange } from '../../core/timecode/range.ts';
import { lengthOf, overlap, pullRange } from '../../core/timecode/range.ts';
import { nominalBase } from '../../core/timecode/rate.ts';
import { sortedBy } from '../report/order.ts';
import { framesWords, labelAt, roleName, shortName, takeWords } from './clip-words.ts';
import type { CoverageBar, CoverageDrawing, Tick } from './content.ts';

/** Roles from the one that drives the action to those that only help. */
export const ROLE_ORDER: readonly Role[] = ['lead', 'swapped', 'clean', 'element', 'reference', 'unknown'];

/** The drawing of one needed range: its passes one under another, what they lack, and a scale in frames and timecode. */
export function coverageDrawing(judged: JudgedSet, needed: NeededRange): CoverageDrawing {
  const clips = judged.matched.set.clips;
  const lead = clips.find(({ id }) => id === needed.lead);
  const covers = coversOf(judged, needed);
  const pull = pullRange(needed.cut, needed.handles);
  const span = spanOf(pull, covers);
  return {
    title: rangeOfTake(needed, clips),
    from: needed.from,
    span,
    cut: needed.cut,
    pull,
    ticks: lead === undefined ? [] : ticksOf(span, lead),
    bars: covers.map((cover) => barOf(cover, pull, clips, isHeld(judged, cover))),
  };
}

/** "TWR_027_0010", or "the whole lead take". */
export function rangeTitle({ shot, basis }: NeededRange): string {
  return shot ?? (basis === 'lead-take' ? 'The whole lead take' : 'Range without a shot code');
}

/** "TWR_027_0010 · 27B take 3": which range of which lead, for a set whose leads may be several. */
export function rangeOfTake(needed: NeededRange, clips: readonly Clip[]): string {
  const lead = clips.find(({ id }) => id === needed.lead);
  return lead === undefined ? rangeTitle(needed) : `${rangeTitle(needed)} · ${takeWords(lead)}`;
}

/** The ranges a sheet shows: those of the leads by which the set is judged, all when there are none such. */
export function shownNeeds({ needed, countingLeads }: JudgedSet): readonly NeededRange[] {
  const counting = needed.filter(({ lead }) => countingLeads.includes(lead));
  return sortedNeeds(counting.length > 0 ? counting : needed);
}

/** What covers a needed range, lead first; passes of one role by clip. */
export function coversOf({ coverage }: JudgedSet, needed: NeededRange): readonly PassCoverage[] {
  const mine = coverage.filter((cover) => sameNeed(cover.needed, needed));
  return sortedBy(mine, ({ role, clip }) => `${ROLE_ORDER.indexOf(role)} ${clip}`);
}

/** Needed ranges in the order they lie: by lead, then by first frame. */
export function sortedNeeds(needed: readonly NeededRange[]): readonly NeededRange[] {
  const key = ({ lead, cut, shot, from }: NeededRange): string => JSON.stringify([lead, String(cut.start + 1e9), String(cut.end + 1e9), shot ?? '', from]);
  return sortedBy(needed, key);
}

function sameNeed(a: NeededRange, b: NeededRange): boolean {
  return a.lead === b.lead && a.cut.start === b.cut.start && a.cut.end === b.cut.end && a.shot === b.shot && a.from === b.from;
}

/** The frames of the pull range that a pass lacks: before it, after it and in its holes. */
export function missingParts({ available, gaps }: PassCoverage, { cut, handles }: NeededRange): CoverageBar['missing'] {
  const pull = pullRange(cut, handles);
  const never = Number.MAX_SAFE_INTEGER;
  const absent = [{ start: -never, end: available.start }, ...gaps, { start: available.end, end: never }];
  const parts = [
    { part: 'handle', range: { start: pull.start, end: cut.start } },
    { part: 'cut', range: cut },
    { part: 'handle', range: { start: cut.end, end: pull.end } },
  ] as const;
  return parts.flatMap(({ part, range }) =>
    absent.flatMap((hole) => {
      const missing = overlap(hole, range);
      return missing === undefined ? [] : [{ range: missing, part }];
    }),
  );
}

function barOf(cover: PassCoverage, pull: FrameRange, clips: readonly Clip[], held: boolean): CoverageBar {
  const clip = clips.find(({ id }) => id === cover.clip);
  return {
    role: cover.role,
    label: roleName(cover.role),
    clip: clip === undefined ? cover.clip : shortName(clip),
    available: cover.available,
    missing: held ? [] : missingParts(cover, cover.needed),
    words: coverWords(cover, pull, held),
  };
}

/** Whether a clean plate serves though it is shorter than the range: before a locked-off camera any frame of it stands for all. */
export function isHeld({ matched, findings }: JudgedSet, { role, clip, gaps }: PassCoverage): boolean {
  const short = findings.some(({ code, subject }) => code === 'clean-plate-short' && subject.includes(clip));
  return role === 'clean' && !matched.set.method.movingCamera && gaps.length === 0 && !short;
}

/** What a pass lacks of the range: "tail lacks 13 of the cut, 12 of the handle"; "holds the range" when it lacks nothing. */
export function coverWords(cover: PassCoverage, pull: FrameRange, held = false): string {
  const { missingHead, missingTail, missingHeadHandle, missingTailHandle, gaps, needed } = cover;
  if (held && missingHead + missingTail + missingHeadHandle + missingTailHandle > 0) return `${framesWords(lengthOf(cover.available))} ${SERVES}`;
  if (missingHead + missingTail >= Math.max(1, lengthOf(needed.cut))) return 'holds none of the cut';
  const holes = gaps.reduce((sum, gap) => sum + lengthOf(overlap(gap, pull) ?? { start: 0, end: 0 }), 0);
  const words = [
    lackWords('head lacks', missingHead, missingHeadHandle),
    holes === 0 ? '' : `${framesWords(holes)} missing inside`,
    lackWords('tail lacks', missingTail, missingTailHandle),
  ].filter((part) => part !== '');
  return words.length === 0 ? HOLDS : words.join('; ');
}

const HOLDS = 'holds the range';
const SERVES = 'serve for all, the camera being locked off';

function lackWords(where: string, cut: number, handle: number): string {
  const words = [cut > 0 ? `${cut} of the cut` : '', handle > 0 ? `${handle} of the handle` : ''].filter((part) => part !== '');
  return words.length === 0 ? '' : `${where} ${words.join(', ')}`;
}

/** Passes much longer than the range would squeeze it to nothing: then the axis shows the range and as much again on either side. */
function spanOf(pull: FrameRange, covers: readonly PassCoverage[]): FrameRange {
  const start = Math.min(pull.start, ...covers.map(({ available }) => available.start));
  const end = Math.max(pull.end, ...covers.map(({ available }) => available.end));
  const length = Math.max(1, lengthOf(pull));
  return { start: Math.max(start, pull.start - length), end: Math.max(Math.min(end, pull.end + length), pull.start + 1) };
}

/** Steps between ticks: whole frames, then whole seconds, of which the first that gives at most eight is taken. */
const STEPS_S = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 1800, 3600] as const;
const MOST_TICKS = 8;

/** Marks of an axis in frames of the lead, eight at most, in steps people count by. */
export function ticksOf(span: FrameRange, lead: Clip): readonly Tick[] {
  const second = lead.rate === undefined ? 24 : nominalBase(lead.rate);
  const steps = [1, 2, 5, 10, Math.max(12, Math.round(second / 2)), ...STEPS_S.map((seconds) => seconds * second)];
  const step = steps.find((frames) => lengthOf(span) / frames <= MOST_TICKS) ?? Math.ceil(lengthOf(span) / MOST_TICKS);
  const ticks: Tick[] = [];
  for (let frame = Math.ceil(span.start / step) * step; frame <= span.end; frame += step) {
    ticks.push({ frame: frame + 0, label: String(frame + 0).replace('-', '−'), timecode: labelAt(lead, frame) ?? '' });
  }
  return ticks;
}
