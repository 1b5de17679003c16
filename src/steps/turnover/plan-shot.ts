import type { Clip } from '../../core/material/clip.ts';
import type { Finding } from '../../core/material/finding.ts';
import type { PassMatch } from '../../core/material/plate-set.ts';
import { pullRange } from '../../core/timecode/range.ts';
import { formatRate } from '../../core/timecode/rate.ts';
import { formatTimecode } from '../../core/timecode/timecode.ts';
import { nominalBase } from '../../core/timecode/rate.ts';
import { coversOf } from '../../formats/sheet/coverage-drawing.ts';
import type { ShotFile, ShotPass } from '../../formats/turnover/shot-file.ts';
import { SHOT_SCHEMA } from '../../formats/turnover/shot-file.ts';
import type { ShotState } from '../../formats/turnover/turnover-file.ts';
import type { FoundShot } from './find-shots.ts';
import type { PassToPlan } from './plan-pass.ts';
import { planPass } from './plan-pass.ts';
import type { TurnoverOptions } from './turnover-options.ts';

/** A shot as it would be packaged, before it is known whether it has changed. */
export interface DraftShot {
  readonly found: FoundShot;
  readonly file: ShotFile;
  readonly state: ShotState;
  readonly clips: readonly Clip[];
  /** Findings that are about this shot's passes and range. */
  readonly findings: readonly Finding[];
}

/**
 * What a shot's folder holds. A shot that was turned over before keeps the numbers of its frames while its lead stays the same:
 * a longer head then begins below the first number, and no frame a vendor works on is renamed.
 */
export function draftShot(found: FoundShot, folder: string, options: TurnoverOptions, before: ShotState | undefined): DraftShot {
  const { needed, row, judged } = found;
  const pull = pullRange(needed.cut, needed.handles);
  const kept = before !== undefined && before.lead === needed.lead ? before.firstNumber + pull.start - before.pull.start : options.firstNumber;
  const firstNumber = kept > 0 ? kept : options.firstNumber;
  const passes = passesOf(found);
  const names = passNames(passes);
  const planned = passes.map((pass, index): ShotPass => planPass(found, pass, { folder, name: names[index] ?? pass.role, firstNumber, pictures: options.pictures, movies: options.movies }));
  const clips = passes.map(({ clip }) => clip);
  const findings = findingsOf(found, clips);
  const { set } = judged.matched;
  const cut = row.inCut;
  const retime = cut?.layers.find(({ clip }) => clip === needed.lead)?.retime?.words ?? null;
  const file: ShotFile = {
    schema: SHOT_SCHEMA,
    show: options.show,
    shot: found.code,
    vendor: row.vendor ?? options.vendor ?? null,
    description: row.description ?? null,
    revision: 1,
    change: { kinds: [], words: [] },
    set: set.id,
    slate: set.slate,
    camera: set.camera,
    method: set.method.name,
    rate: found.lead.rate === undefined ? null : formatRate(found.lead.rate),
    numbers: { first: firstNumber, last: firstNumber + pull.end - pull.start - 1 },
    cut: { first: firstNumber + needed.handles.head, last: firstNumber + needed.cut.end - pull.start - 1 },
    handles: needed.handles,
    record: cut === undefined ? null : recordOf(cut),
    retime,
    cdl: cut?.cdl === undefined ? null : { ...cut.cdl, slope: [...cut.cdl.slope], offset: [...cut.cdl.offset], power: [...cut.cdl.power] },
    passes: planned,
    findings: findings.map(({ code, severity, consequence, remedy }) => ({ code, severity, consequence, remedy })),
    notes: [...(row.notes === undefined ? [] : [row.notes]), ...(cut?.notes ?? [])],
    from: needed.from,
  };
  return { found, file, state: stateOf(found, file, retime, options), clips, findings };
}

function recordOf({ record, rate, recordDropFrame }: NonNullable<FoundShot['row']['inCut']>): ShotFile['record'] {
  const format = { base: nominalBase(rate), drop: recordDropFrame };
  const label = (frame: number): string => formatTimecode({ frame, format });
  return { in: label(record.start), out: label(record.end), rate: formatRate(rate) };
}

function stateOf({ needed, row }: FoundShot, file: ShotFile, retime: string | null, { pictures, movies }: TurnoverOptions): ShotState {
  const record = row.inCut;
  return {
    lead: needed.lead,
    cut: needed.cut,
    pull: pullRange(needed.cut, needed.handles),
    firstNumber: file.numbers.first,
    record: record === undefined ? null : { ...record.record, rate: formatRate(record.rate) },
    retime,
    passes: file.passes.map(({ role, clip, sync, retime: own }) => ({ role, clip, offset: sync.offset, retime: own })),
    pictures: pictures ?? null,
    movies,
  };
}

function passesOf({ judged, needed, lead, match, row }: FoundShot): readonly PassToPlan[] {
  const { clips } = judged.matched.set;
  const covers = coversOf(judged, needed);
  const retimeOf = (clip: Clip): string | undefined => row.inCut?.layers.find((layer) => layer.clip === clip.id)?.retime?.words;
  const planOf = (pass: PassMatch): readonly PassToPlan[] => {
    const clip = clips.find(({ id }) => id === pass.clip);
    if (clip === undefined || pass.role === 'unknown') return [];
    const { method, offset, confidence, words } = pass.sync;
    return [{ clip, role: pass.role, sync: { method, offset, confidence, words }, cover: covers.find((cover) => cover.clip === clip.id), retime: retimeOf(clip) }];
  };
  const byClip = (passes: readonly PassMatch[]): readonly PassMatch[] => passes.toSorted((a, b) => (a.clip < b.clip ? -1 : 1));
  const leadSync = { method: 'lead', offset: 0, confidence: 1, words: 'the pass the others are laid under' };
  return [
    { clip: lead, role: 'lead', sync: leadSync, cover: covers.find((cover) => cover.clip === lead.id), retime: retimeOf(lead) },
    ...[match.swapped, match.clean].flatMap((pass) => (pass === undefined ? [] : planOf(pass))),
    ...byClip(match.elements).flatMap(planOf),
    ...byClip(match.references).flatMap(planOf),
  ];
}

/** "lead", "element", "element-2". */
function passNames(passes: readonly PassToPlan[]): readonly string[] {
  return passes.map(({ role }, index) => {
    const before = passes.slice(0, index).filter((other) => other.role === role).length;
    return before === 0 ? role : `${role}-${before + 1}`;
  });
}

const OF_A_RANGE: ReadonlySet<string> = new Set(['short-head', 'short-tail', 'no-overlap', 'frame-gap', 'clean-plate-short']);

/** What is wrong with this shot: findings about its passes, and of those about ranges the ones about its own. */
function findingsOf({ judged, needed }: FoundShot, clips: readonly Clip[]): readonly Finding[] {
  const ids = new Set(clips.map(({ id }) => id));
  const ranges = judged.needed.map(({ from }) => from);
  return judged.findings.filter(({ code, subject, evidence }) => {
    if (!subject.every((id) => ids.has(id))) return false;
    const said = OF_A_RANGE.has(code) ? ranges.find((from) => evidence[0]?.startsWith(`${from}:`)) : undefined;
    return said === undefined || said === needed.from;
  });
}
