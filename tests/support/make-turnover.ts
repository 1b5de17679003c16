import type { JudgedDay, JudgedSet } from '../../src/core/checks/judged.ts';
import type { Clip } from '../../src/core/material/clip.ts';
import type { CutShot, Retime, UntiedEvent } from '../../src/core/material/cut.ts';
import type { Finding } from '../../src/core/material/finding.ts';
import type { ShotRow } from '../../src/core/material/shot-list.ts';
import { frameRate } from '../../src/core/timecode/rate.ts';
import { DEFAULT_SHEET_TEMPLATE } from '../../src/formats/sheet/template.ts';
import type { TurnoverOptions } from '../../src/steps/turnover/turnover-options.ts';
import { coverAll, judged, makePass, matched } from './make-judged.ts';

/** One shot of an invented cut of set-up 27B: its cut range in frames of the lead (end exclusive), and what else may differ. */
export interface InventedShot {
  readonly code?: string;
  readonly cut: readonly [start: number, end: number];
  readonly record?: number;
  readonly take?: number;
  readonly swappedOffset?: number;
  readonly swappedFrames?: number;
  readonly retime?: Retime;
  readonly findings?: (ids: readonly string[]) => readonly Finding[];
  readonly lead?: Partial<Clip>;
}

/** A judged day of one split whose takes are 240 frames at 24; the shots come from a cut, handles 8. */
export function turnoverDay(...shots: readonly InventedShot[]): JudgedDay {
  const sets = shots.map((shot, index) => setOf(shot, index));
  return { clips: sets.flatMap((set) => set.matched.set.clips), sets, unplaced: [], findings: [] };
}

function setOf({ code, cut: [start, end], record = 0, take = 1, swappedOffset = 0, swappedFrames = 240, retime, findings, lead: over = {} }: InventedShot, index: number): JudgedSet {
  const shot = code ?? `SMR_027_00${index + 1}0`;
  const roll = `A_000${index + 1}`;
  const rate = frameRate(24);
  const pass = (name: string, role: 'lead' | 'swapped' | 'clean', at: string, frames: number): Clip => makePass({ file: `${roll}/${name}.mov`, role, setUp: '27B', take, start: at, frames, rate, over: { decodable: true, ...(role === 'lead' ? over : {}) } });
  const lead = pass(`A003C00${take}`, 'lead', '14:22:00:00', 240);
  const swapped = pass('A003C011', 'swapped', '14:30:00:00', swappedFrames);
  const clean = pass('A003C012', 'clean', '14:35:00:00', 32);
  const from = `cut.edl line ${4 + 3 * index}`;
  const range = { start, end };
  const needed = [{ lead: lead.id, shot, basis: 'shot-list' as const, cut: range, handles: { head: 8, tail: 8 }, from }];
  const layer = { clip: lead.id, track: 'V1', source: range, atRecordIn: start, ...(retime === undefined ? {} : { retime }), dissolve: { head: 0, tail: 0 }, disabled: false, from, tiedBy: 'clip name' };
  const inCut: CutShot = { shot, shotFrom: 'comment', record: { start: 86_400 + record, end: 86_400 + record + end - start }, rate, recordDropFrame: false, lead: lead.id, layers: [layer], notes: [], from };
  const row: ShotRow = { shot, slate: '27B', handles: {}, from, inCut, cutFrames: range };
  const sync = { method: 'cut' as const, offset: swappedOffset, confidence: 0.95, words: 'lie over each other in the cut' };
  const assumed = { method: 'assumed' as const, offset: 0, confidence: 0.2, words: 'head to head' };
  const found = findings?.([lead.id, swapped.id, clean.id]) ?? [];
  return {
    ...judged({
      id: `27B-A${index}`, slate: '27B', camera: 'A', method: { name: 'split', description: 'plain split line', required: ['lead', 'swapped', 'clean'], wanted: [], movingCamera: false, repeatedMove: false, elementReplacesSwapped: false, skipChecks: [], syncAssumed: 'note', references: [] }, methodFrom: 'default',
      clips: [lead, swapped, clean], matches: [{ lead: lead.id, swapped: matched(swapped.id, 'swapped', sync), clean: matched(clean.id, 'clean', assumed), elements: [], references: [] }],
      verdict: found.length === 0 ? 'yes' : 'no', reason: '', findings: [...found], countingLeads: [lead.id], needed,
      coverage: coverAll(needed, [[lead, 'lead', 0], [swapped, 'swapped', swappedOffset], [clean, 'clean', 0]]), shots: [row],
    }),
  };
}

/** The same day with events of its cut that could not be read or tied. */
export function withUntied(day: JudgedDay, ...untied: readonly Partial<UntiedEvent>[]): JudgedDay {
  const one: UntiedEvent = { shot: 'EVENT_009', coded: false, listed: false, makesShot: true, from: 'cut.edl line 30', short: 'could not be read', why: 'cut.edl, line 30: found X; expected Y.', remedy: 'Correct the line.' };
  return { ...day, cutRest: { untied: untied.map((over) => ({ ...one, ...over })), ordinary: [] } };
}

/** Options as the command line gives them without any of its own. */
export function turnoverOptions(day: JudgedDay, over: Partial<TurnoverOptions> = {}): TurnoverOptions {
  return {
    show: 'Saltmarsh Row', vendor: 'Fenlight Post', onlyVendor: undefined, firstNumber: 1001, pictures: undefined, movies: false, all: false, includeStopped: false,
    cuts: ['cut.edl'], template: DEFAULT_SHEET_TEMPLATE, rows: day.sets.flatMap(({ shots }) => shots), folderNames: (names) => names, ...over,
  };
}
