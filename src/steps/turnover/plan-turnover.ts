import type { JudgedDay } from '../../core/checks/judged.ts';
import type { ClipId } from '../../core/material/clip.ts';
import type { TimecodeFormat } from '../../core/timecode/timecode.ts';
import type { PlannedStill, SheetContent } from '../../formats/sheet/content.ts';
import { plannedStills } from '../../formats/sheet/stills.ts';
import type { ShotFile } from '../../formats/turnover/shot-file.ts';
import { compareText } from '../../formats/report/order.ts';
import { narrowToShot, shotSheet } from '../../formats/turnover/shot-sheet.ts';
import { shotVerdict } from '../../formats/turnover/shot-verdict.ts';
import type { LeftOut, StandingShot, TurnoverFile } from '../../formats/turnover/turnover-file.ts';
import { TURNOVER_SCHEMA } from '../../formats/turnover/turnover-file.ts';
import type { ShotChange } from './compare-shots.ts';
import { compareShots, NEW_SHOT } from './compare-shots.ts';
import { findShots } from './find-shots.ts';
import { firstDoubt, isFor, rowsLeftOut } from './rows-left-out.ts';
import type { DraftShot } from './plan-shot.ts';
import { draftShot } from './plan-shot.ts';
import type { PreviousTurnover, TurnoverOptions } from './turnover-options.ts';

/** What a turnover will hold. Plain data: printed as JSON it is what `--dry-run` shows. */
export interface TurnoverPlan {
  readonly turnover: TurnoverFile;
  readonly shots: readonly PlannedShot[];
}

/** One shot to be packaged. */
export interface PlannedShot {
  readonly folder: string;
  readonly file: ShotFile;
  readonly sheet: { readonly file: string; readonly content: SheetContent; readonly stills: readonly PlannedStill[] };
  /** How the labels of each clip count, and what they start at as a frame count; clips without timecode are absent. */
  readonly clocks: Readonly<Record<ClipId, { readonly start: number; readonly format: TimecodeFormat; readonly perFrame: boolean }>>;
}

/** Decides what goes into a turnover: every shot that is new or whose plates changed (all, when asked), what is left out and why. */
export function planTurnover(day: JudgedDay, options: TurnoverOptions, previous?: PreviousTurnover): TurnoverPlan {
  const revision = (previous?.turnover.revision ?? 0) + 1;
  const before = new Map((previous?.turnover.shots ?? []).map((shot) => [shot.shot, shot]));
  const asked = findShots(day, options.cuts.length > 0);
  const found = asked.filter(({ row }) => isFor(row.vendor ?? options.vendor, options));
  const folders = options.folderNames(found.map(({ code }) => code));
  const drafts = found.map((shot, index) => draftShot(shot, folders[index] ?? shot.code, options, before.get(shot.code)?.state));
  const leftOut = [...drafts.flatMap(stopOf), ...rowsLeftOut(day, options, asked, before)];
  const judged = drafts.map((draft, index) => judgeDraft(draft, folders[index] ?? '', revision, before.get(draft.file.shot), options));
  const standing = judged.flatMap(({ standing: one }) => one ?? []);
  const named = new Set([...asked.map(({ code }) => code), ...leftOut.map(({ shot }) => shot)]);
  const gone = [...before.values()].filter(({ shot }) => !named.has(shot)).toSorted((a, b) => compareText(a.shot, b.shot));
  const doubt = firstDoubt(day);
  const turnover: TurnoverFile = {
    schema: TURNOVER_SCHEMA,
    show: options.show,
    revision,
    previous: previous === undefined ? null : { package: previous.package, revision: previous.turnover.revision },
    cuts: [...options.cuts],
    pictures: options.pictures ?? null,
    movies: options.movies,
    shots: [
      ...standing,
      ...heldOver(new Set([...leftOut, ...asked.map(({ code: shot }) => ({ shot }))].map(({ shot }) => shot)), new Set(standing.map(({ shot }) => shot)), before),
      // Whoever hears that a shot was dropped stops work on it: that is said only when nothing of the cut is in doubt.
      ...(doubt === undefined ? [] : gone.map((was): StandingShot => ({ ...was, folder: null, change: { kinds: ['cannot tell'], words: [`Cannot tell whether it is still in the cut: ${doubt}. Stands as it was turned over before.`] } }))),
    ],
    leftOut,
    dropped: doubt === undefined ? gone.map(({ shot }) => shot) : [],
  };
  return { turnover, shots: judged.flatMap(({ planned }) => planned ?? []) };
}

/** The plan as JSON, without what will be printed on the sheets. */
export function formatPlan({ turnover, shots }: TurnoverPlan): string {
  return `${JSON.stringify({ turnover, shots: shots.map(({ folder, file, sheet }) => ({ folder, sheet: sheet.file, file })) }, null, 2)}\n`;
}

interface JudgedDraft {
  readonly standing?: StandingShot;
  readonly planned?: PlannedShot;
}

function judgeDraft(draft: DraftShot, folder: string, revision: number, before: StandingShot | undefined, options: TurnoverOptions): JudgedDraft {
  const change = before === undefined ? NEW_SHOT : compareShots(before.state, draft.state, draft.file);
  const stopped = isStopped(draft) && !options.includeStopped;
  if (stopped) return {};
  const packaged = options.all || change.plates;
  const { kinds, words } = change;
  const standing: StandingShot = {
    shot: draft.file.shot,
    folder: packaged ? folder : null,
    packagedIn: packaged || before === undefined ? revision : before.packagedIn,
    change: { kinds: [...kinds], words: [...words] },
    judged: { ...shotVerdict(draft.file) },
    // Unchanged shots keep what was delivered of them, so that a later change is told against that.
    state: packaged || before === undefined ? draft.state : { ...draft.state, pictures: before.state.pictures, movies: before.state.movies },
  };
  return packaged ? { standing, planned: plannedShot(draft, folder, revision, change, options) } : { standing };
}

function plannedShot(draft: DraftShot, folder: string, revision: number, change: ShotChange, { template }: TurnoverOptions): PlannedShot {
  const { found, clips } = draft;
  const file: ShotFile = { ...draft.file, revision, change: { kinds: [...change.kinds], words: [...change.words] } };
  const narrowed = narrowToShot({ ...found.judged, findings: draft.findings }, found.needed, clips);
  const clocks = clips.flatMap((clip) => {
    const { start, rate } = clip;
    return start === undefined ? [] : [[clip.id, { start: start.frame, format: start.format, perFrame: rate === undefined || Math.round(rate.num / rate.den) === start.format.base }] as const];
  });
  return {
    folder,
    file,
    sheet: {
      file: `${folder}/${folder}_sheet.pdf`,
      content: shotSheet(narrowed, file, template),
      stills: template.sections.includes('pictures') ? plannedStills(narrowed) : [],
    },
    clocks: Object.fromEntries(clocks),
  };
}

function isStopped({ findings }: DraftShot): boolean {
  return findings.some(({ severity }) => severity === 'stop');
}

function stopOf({ file, findings }: DraftShot): readonly LeftOut[] {
  const stops = findings.filter(({ severity }) => severity === 'stop');
  const [first] = stops;
  if (first === undefined) return [];
  const words = stops.map(({ code, consequence }) => `${code}: ${consequence}`).join(' ');
  return [{ shot: file.shot, kind: 'stopped', why: words, remedy: [...new Set(stops.map(({ remedy }) => remedy))].join('; ') }];
}

/** A shot that is asked for and cannot be packaged now stands as it was turned over before. */
function heldOver(asked: ReadonlySet<string>, standing: ReadonlySet<string>, before: ReadonlyMap<string, StandingShot>): readonly StandingShot[] {
  return [...asked].flatMap((shot) => {
    const was = before.get(shot);
    return was === undefined || standing.has(shot) ? [] : [{ ...was, folder: null, change: { kinds: ['held back'], words: ['Stands as it was turned over before.'] } }];
  });
}
