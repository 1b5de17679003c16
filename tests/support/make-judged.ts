import type { NeededRange, PassCoverage } from '../../src/core/coverage/coverage.ts';
import type { JudgedDay, JudgedSet } from '../../src/core/checks/judged.ts';
import type { Chosen, Clip, ClipId, Role } from '../../src/core/material/clip.ts';
import type { Finding } from '../../src/core/material/finding.ts';
import type { Method } from '../../src/core/material/method.ts';
import type { LeadMatch, PassMatch, Sync } from '../../src/core/material/plate-set.ts';
import type { MoveMark, ShotRow } from '../../src/core/material/shot-list.ts';
import type { Field, FieldValues, Source, SourceKind, Statement } from '../../src/core/material/statement.ts';
import type { FrameRate } from '../../src/core/timecode/rate.ts';
import { frameRate, hasDropFrame } from '../../src/core/timecode/rate.ts';
import { parseLabel, timecodeFormat } from '../../src/core/timecode/timecode.ts';

/** What a clip of the fixture is told; everything else of it has a sober default. */
export interface ClipFacts {
  readonly file: string;
  readonly role: Role;
  readonly setUp?: string;
  readonly take?: number;
  readonly start?: string;
  readonly frames?: number;
  readonly rate?: FrameRate;
  readonly circled?: boolean;
  readonly over?: Partial<Clip>;
  /** Values stated of the clip: from the file itself, or `[value, report line]` from the camera report. */
  readonly embedded?: Partial<FieldValues>;
  readonly report?: Partial<FieldValues>;
  readonly line?: number;
}

const FILM_RATE = frameRate(24000, 1001);
const REPORT = 'reports/camera_A.csv';

/** A judged day of an invented production ("Tidewrack"): every verdict, several methods, scripts and kinds of trouble. */
export function makeJudgedDay(): JudgedDay {
  const sets = [brokenSplit(), clearSplit(), ambiguousMoco(), handheldWithoutSwap(), headReplacement()];
  const unplaced = [
    makePass({ file: 'A_0007/A007C021_261125_R7QK.mov', role: 'unknown', over: { usable: false, complete: false, completeness: 'the index is missing' } }),
    makePass({ file: 'B_0003/B003C002_261125_XY01.mov', role: 'clean', start: '11:40:00:00', frames: 96 }),
  ];
  return {
    clips: [...sets.flatMap((set) => set.matched.set.clips), ...unplaced].toSorted((a, b) => (a.id < b.id ? -1 : 1)),
    sets,
    unplaced: [
      { clip: 'A_0007/A007C021_261125_R7QK.mov', why: 'cut off: the index is missing, so nothing can be judged by it' },
      { clip: 'B_0003/B003C002_261125_XY01.mov', why: 'no slate in the file, the reports or the names' },
    ],
    findings: [
      {
        code: 'truncated-clip', severity: 'stop', subject: ['A_0007/A007C021_261125_R7QK.mov'],
        consequence: 'the file ends before its index: no frame of it can be read',
        remedy: 'copy it again from the card and compare the hashes', evidence: ['A_0007/A007C021_261125_R7QK.mov, byte 31744'],
      },
      {
        code: 'unreadable-value', severity: 'warn', subject: [],
        measured: { value: 'two and a bit', unit: '' }, allowed: { value: 'a stop such as T2.8', unit: '' },
        consequence: 'the stop of this row is unknown; the rest of the row counts',
        remedy: 'write the stop as T2.8 in the report', evidence: [`${REPORT}, line 9, column T-Stop`],
      },
    ],
  };
}

/** A set that lacks nothing in presence but much in agreement: verdict no, shots, corrections, findings of every severity. */
export function brokenSplit(): JudgedSet {
  const lead = makePass({
    file: 'A_0003/A003C012_261125_R7QK.mov', role: 'lead', setUp: '27B', take: 3, start: '14:22:33:04', frames: 240, circled: true, line: 4,
    embedded: { lens: 'Prime 35', lensSerial: '0012', focalLength: 35, focusDistance: 3.2, stop: { kind: 'T', number: 2.8 }, ei: 800, whiteBalance: 5600, shutter: { kind: 'angle', degrees: 180 }, raster: { width: 4096, height: 2160 } },
    report: { filters: { text: 'ND.6 + BPM 1/4', ndDensity: 0.6 }, cameraHeight: 1.42, tilt: -2.5, rollAngle: 0, subjectDistance: 3.2, backgroundDistance: 6.1, stop: { kind: 'T', number: 2.8 } },
  });
  const early = makePass({ file: 'A_0003/A003C011_261125_R7QK.mov', role: 'lead', setUp: '27B', take: 2, start: '14:19:02:00', frames: 201, line: 3 });
  const swapped = makePass({
    file: 'A_0003/A003C013_261125_R7QK.mov', role: 'swapped', setUp: '27B', take: 4, start: '14:31:10:12', frames: 205, circled: true, line: 5,
    embedded: { lens: 'Prime 35', lensSerial: '0012', focalLength: 35, focusDistance: 3.2, stop: { kind: 'T', number: 4 }, ei: 800, whiteBalance: 5600, shutter: { kind: 'angle', degrees: 180 }, raster: { width: 4096, height: 2160 } },
    report: { filters: { text: 'ND.3 + BPM 1/4', ndDensity: 0.3 }, cameraHeight: 1.47, tilt: -2.6, rollAngle: 0, subjectDistance: 3.2, backgroundDistance: 6.1 },
  });
  const clean = makePass({
    file: 'A_0003/A003C014_261125_R7QK.mov', role: 'clean', setUp: '27B', take: 5, start: '14:40:00:00', frames: 120, line: 6,
    embedded: { lens: 'Prime 35', lensSerial: '0012', focalLength: 35, focusDistance: 3.2, stop: { kind: 'T', number: 2.8 }, ei: 800, whiteBalance: 5600, shutter: { kind: 'angle', degrees: 180 }, raster: { width: 4096, height: 2160 } },
  });
  const shots: ShotRow[] = [
    { shot: 'TWR_027_0010', slate: '27B', take: 3, vendor: 'North Quay', description: 'Ines hands the lantern to herself across the table', cutIn: '14:22:35:00', cutOut: '14:22:39:12', handles: {}, notes: 'hands cross the split at 4s', from: 'shots.csv line 4' },
    { shot: 'TWR_027_0020', slate: '27B', take: 3, vendor: 'North Quay', description: 'Both look up', cutIn: '14:22:40:00', cutOut: '14:22:42:12', handles: { head: 12, tail: 12 }, from: 'shots.csv line 5' },
  ];
  const needed: NeededRange[] = [
    { lead: lead.id, shot: 'TWR_027_0010', basis: 'shot-list', cut: { start: 44, end: 152 }, handles: { head: 8, tail: 8 }, from: 'shots.csv line 4' },
    { lead: lead.id, shot: 'TWR_027_0020', basis: 'shot-list', cut: { start: 164, end: 224 }, handles: { head: 12, tail: 12 }, from: 'shots.csv line 5' },
  ];
  return judged({
    id: '27B-A', slate: '27B', camera: 'A', method: SPLIT, methodFrom: 'shots.csv line 4', clips: [early, lead, swapped, clean],
    matches: [
      { lead: early.id, swapped: matched(swapped.id, 'swapped', assumed(0)), clean: matched(clean.id, 'clean', assumed(0)), elements: [], references: [] },
      {
        lead: lead.id,
        swapped: matched(swapped.id, 'swapped', { method: 'correction', offset: -6, confidence: 1, words: 'set by hand: the hand clap in both passes' }, { clip: 'A_0003/A003C011_261125_R7QK.mov', cost: 9.5 }),
        clean: matched(clean.id, 'clean', assumed(0)), elements: [], references: [],
      },
    ],
    verdict: 'no', reason: 'the swapped pass lacks 13 frames at the tail of TWR_027_0020',
    findings: [
      finding('short-tail', 'stop', [lead.id, swapped.id], { value: 13, unit: 'frames' }, { value: 0, unit: 'frames' },
        'the last 13 frames of TWR_027_0020 have no swapped pass: the second role vanishes before the cut',
        'shoot the swapped pass again and let it run 1 s past the end of the action, or end the shot 13 frames earlier', ['shots.csv line 5', `${swapped.id}: 205 frames`]),
      finding('stop-differs', 'stop', [lead.id, swapped.id], { value: 1, unit: 'stops' }, { value: 0.33, unit: 'stops' },
        'the swapped pass was shot at T4, the lead at T2.8: one stop less light and more depth of field; grain and background blur change at the split line',
        'shoot the swapped pass again at T2.8', [`${lead.id}: T2.8`, `${swapped.id}: T4`]),
      finding('height-differs', 'warn', [lead.id, swapped.id], { value: 50, unit: 'mm' }, { value: 10, unit: 'mm' },
        'the camera stood 50 mm higher: near things shift against far ones, which no reposition removes',
        'measure both; lower the camera to 1.42 m when the pass is shot again', [`${REPORT}, line 4`, `${REPORT}, line 5`]),
      finding('sync-assumed', 'note', [clean.id], undefined, undefined, 'the clean plate is laid head to head with the lead', 'nothing while the camera is locked off', []),
    ],
    countingLeads: [lead.id], needed, coverage: coverAll(needed, [[lead, 'lead', 0], [swapped, 'swapped', -6], [clean, 'clean', 0]]),
    corrections: [{ kind: 'sync', id: 'c-2', who: 'Lena Okafor, DIT', why: 'hand clap seen in both passes', from: 'corrections.yaml, line 12', lead: lead.id, clip: swapped.id, offset: -6 }],
    shots,
  });
}

/** All there, all equal; notes in Greek and Cyrillic. */
export function clearSplit(): JudgedSet {
  const facts: Partial<FieldValues> = { lens: 'Prime 50', lensSerial: '0031', focalLength: 50, focusDistance: Infinity, stop: { kind: 'T', number: 4 }, ei: 800, whiteBalance: 4300, raster: { width: 3840, height: 2160 } };
  const lead = makePass({ file: 'A_0004/A004C001_261125_R7QK.mov', role: 'lead', setUp: '31', take: 1, start: '09:00:00:00', frames: 144, rate: frameRate(25), embedded: facts, over: { notes: ['Το φως από το παράθυρο', 'Дублёрша стоит слева'] } });
  const swapped = makePass({ file: 'A_0004/A004C002_261125_R7QK.mov', role: 'swapped', setUp: '31', take: 2, start: '09:04:00:00', frames: 150, rate: frameRate(25), embedded: facts });
  const clean = makePass({ file: 'A_0004/A004C003_261125_R7QK.mov', role: 'clean', setUp: '31', take: 3, start: '09:08:00:00', frames: 160, rate: frameRate(25), embedded: facts });
  const needed = [wholeTake(lead)];
  return judged({
    id: '31-A', slate: '31', camera: 'A', method: SPLIT, methodFrom: 'default', clips: [lead, swapped, clean],
    matches: [{ lead: lead.id, swapped: matched(swapped.id, 'swapped', { method: 'sync-mark', offset: 3, confidence: 0.9, words: 'both notes name the clap' }), clean: matched(clean.id, 'clean', assumed(0)), elements: [], references: [] }],
    verdict: 'yes', reason: 'every pass is there, long enough and shot alike', findings: [], countingLeads: [lead.id], needed,
    coverage: coverAll(needed, [[lead, 'lead', 0], [swapped, 'swapped', 3], [clean, 'clean', 0]]),
  });
}

/** Motion control at 29.97 drop frame; two swapped passes are equally good, and one clip of another set-up might belong here. */
export function ambiguousMoco(): JudgedSet {
  const rate = frameRate(30000, 1001);
  const pass = (clip: string, role: Role, take: number): Clip =>
    makePass({ file: `B_0002/B002${clip}_261125_QW7X.mov`, role, setUp: '44A', take, start: '10:00:58;20', frames: 300, rate, embedded: { lens: 'Zoom 19-90', focalLength: 27, stop: { kind: 'T', number: 5.6 }, ei: 1600, raster: { width: 4448, height: 3096 }, squeeze: 1.8 } });
  const [lead, first, second, clean] = [pass('C001', 'lead', 1), pass('C002', 'swapped', 2), pass('C003', 'swapped', 3), pass('C004', 'clean', 4)];
  const needed = [wholeTake(lead)];
  const sync: Sync = { method: 'equal-timecode', offset: 0, confidence: 0.95, words: 'both start at 10:00:58;20' };
  return judged({
    id: '44A-B', slate: '44A', camera: 'B', method: MOCO, methodFrom: `${REPORT}, line 12, column method`, clips: [lead, first, second, clean],
    matches: [{ lead: lead.id, swapped: { ...matched(first.id, 'swapped', sync, { clip: second.id, cost: 1.2 }), margin: 0.2 }, clean: matched(clean.id, 'clean', sync), elements: [], references: [] }],
    proposed: [{ lead: lead.id, clip: 'B_0003/B003C002_261125_XY01.mov', role: 'clean', why: 'same lens and rate, shot four minutes later, no lead of its own' }],
    verdict: 'look', reason: 'two swapped passes fit the lead equally well',
    findings: [
      finding('ambiguous-match', 'warn', [lead.id, first.id, second.id], { value: 0.2, unit: '' }, { value: 1, unit: '' },
        'take 2 and take 3 fit take 1 almost equally well: the wrong one may be turned over', 'circle the better take in the log, or confirm one in the corrections file', []),
      finding('proposed-match', 'note', ['B_0003/B003C002_261125_XY01.mov'], undefined, undefined, 'a clean plate without slate could belong here', 'confirm it in the corrections file when it does', []),
    ],
    countingLeads: [lead.id], needed, coverage: coverAll(needed, [[lead, 'lead', 0], [first, 'swapped', 0], [clean, 'clean', 0]]),
  });
}

/** Handheld, the swapped pass still to be shot: what a repeat card is for. */
export function handheldWithoutSwap(): JudgedSet {
  const lead = makePass({
    file: "A_0005/A005C007_261125_R7QK.mov", role: 'lead', setUp: '50C', take: 2, start: '16:10:00:00', frames: 312, circled: true, line: 20,
    embedded: { lens: 'Prime 25', lensSerial: '0107', focalLength: 25, focusDistance: 2.1, stop: { kind: 'T', number: 2 }, ei: 1280, whiteBalance: 3200, tint: 3, shutter: { kind: 'angle', degrees: 172.8 }, raster: { width: 4096, height: 2160 } },
    report: { filters: { text: 'clear' }, cameraHeight: 1.6, tilt: 1.25, subjectDistance: 2.1 },
    over: { sensorRate: FILM_RATE },
  });
  const clean = makePass({ file: 'A_0005/A005C009_261125_R7QK.mov', role: 'clean', setUp: '50C', take: 4, start: '16:21:00:00', frames: 400 });
  const needed = [wholeTake(lead)];
  const marks: MoveMark[] = [
    { slate: '50C', take: 2, pass: 'lead', mark: 'A start', tc: '16:10:01:00', timeS: 0, x: 0, y: 0, z: 1.6, pan: 0, tilt: 1.25, focusDistanceM: 2.1, from: 'marks.csv line 2' },
    { slate: '50C', take: 2, pass: 'lead', mark: 'B door', tc: '16:10:05:12', timeS: 4.5, x: 0.8, y: 0.3, z: 1.58, pan: -12.5, focusDistanceM: 1.7, notes: 'left foot on blue tape', from: 'marks.csv line 3' },
    { slate: '50C', take: 2, pass: 'lead', mark: 'C end', tc: '16:10:10:00', timeS: 9, x: 1.2, pan: -20, from: 'marks.csv line 4' },
  ];
  return judged({
    id: '50C-A', slate: '50C', camera: 'A', method: HANDHELD, methodFrom: 'shots.csv line 9', clips: [lead, clean],
    matches: [{ lead: lead.id, clean: matched(clean.id, 'clean', assumed(0)), elements: [], references: [] }],
    verdict: 'no', reason: 'there is no swapped pass',
    findings: [
      finding('missing-swapped-pass', 'stop', [lead.id], undefined, undefined, 'nothing shows the second role: the shot cannot be put together',
        'shoot the swapped pass before the set is struck; the repeat card says how', []),
    ],
    countingLeads: [lead.id], needed, coverage: coverAll(needed, [[lead, 'lead', 0], [clean, 'clean', 0]]), missingRoles: ['swapped'], marks,
  });
}

/** Twelve passes: head replacement with elements and references, one raw clip whose pictures cannot be decoded, words in Japanese. */
export function headReplacement(): JudgedSet {
  const lead = makePass({ file: 'A_0006/A006C001_261125_R7QK.R3D', role: 'lead', setUp: '61', take: 1, start: '18:00:00:00', frames: 180, over: { kind: 'header-only', decodable: false, notes: ['照明は窓から'] }, embedded: { focalLength: 75, ei: 800, raster: { width: 8192, height: 4320 } } });
  const swapped = makePass({ file: 'A_0006/plates/A006C002_261125_R7QK.####.exr', role: 'swapped', setUp: '61', take: 2, start: '18:05:00:00', frames: 176, over: { kind: 'sequence', sequence: { first: 1001, last: 1180, padding: 4, missing: [{ start: 1090, end: 1094 }] } } });
  const clean = makePass({ file: 'A_0006/A006C003_261125_R7QK.mov', role: 'clean', setUp: '61', take: 3, start: '18:09:00:00', frames: 240 });
  const elements = [4, 5, 6].map((take) => makePass({ file: `A_0006/A006C00${take}_261125_R7QK.mov`, role: 'element', setUp: '61', take, start: `18:1${take}:00:00`, frames: 190 }));
  const references = [7, 8, 9, 10, 11, 12].map((take) => makePass({ file: `A_0006/A006C0${String(take).padStart(2, '0')}_261125_R7QK.mov`, role: 'reference', setUp: '61', take, start: `18:${20 + take}:00:00`, frames: 24 }));
  const needed = [wholeTake(lead)];
  const gap: PassCoverage[] = coverAll(needed, [[lead, 'lead', 0], [{ ...swapped, frames: 180 }, 'swapped', 0], [clean, 'clean', 0], ...elements.map((clip): [Clip, Role, number] => [clip, 'element', 0])])
    .map((cover) => (cover.clip === swapped.id ? { ...cover, gaps: [{ start: 89, end: 93 }] } : cover));
  return judged({
    id: '61-A', slate: '61', camera: 'A', method: HEAD, methodFrom: 'shots.csv line 11', clips: [lead, swapped, clean, ...elements, ...references],
    matches: [{
      lead: lead.id, swapped: matched(swapped.id, 'swapped', assumed(0)), clean: matched(clean.id, 'clean', assumed(0)),
      elements: elements.map((clip) => matched(clip.id, 'element', assumed(0))), references: references.map((clip) => matched(clip.id, 'reference', assumed(0))),
    }],
    verdict: 'no', reason: 'four frames are missing inside the swapped pass',
    findings: [
      finding('frame-gap', 'stop', [swapped.id], { value: '1090 to 1093', unit: '' }, { value: 0, unit: 'frames' }, 'four frames are not there: the swapped role jumps', 'copy 1090 to 1093 again from the card, or shoot the pass again', ['numbers in the folder']),
      finding('sources-disagree', 'warn', [lead.id], { value: 75, unit: 'mm' }, { value: 85, unit: 'mm' }, 'the file says 75 mm, the report says 85 mm', 'ask the camera assistant; correct the report', [lead.id, `${REPORT}, line 31`]),
    ],
    countingLeads: [lead.id], needed, coverage: gap,
  });
}

/** One clip of the fixture. */
export function makePass(facts: ClipFacts): Clip {
  const rate = facts.rate ?? FILM_RATE;
  const drop = facts.start?.includes(';') ?? false;
  const format = timecodeFormat(rate, drop && hasDropFrame(rate));
  const line = `line ${facts.line ?? 2}`;
  const statements = [...stated('embedded', facts.file, '', facts.embedded ?? {}), ...stated('report', REPORT, line, facts.report ?? {})];
  const name = /(?:^|\/)([A-Z])(\d{3})(C\d{3})/.exec(facts.file);
  const pick = <F extends Field>(field: F): Chosen<FieldValues[F]> | undefined => {
    const found = statements.find((statement) => statement.field === field);
    return found === undefined ? undefined : { value: found.value as FieldValues[F], source: found.source, raw: found.raw };
  };
  const shutter = pick('shutter');
  return {
    id: facts.file, file: facts.file, kind: 'movie', usable: true, complete: true, completeness: 'every frame of the index lies inside the file', decodable: true, sizeBytes: 1_234_567,
    ...(name === null ? {} : { camera: name[1] ?? '', roll: `${name[1]}${name[2]}`, clip: name[3] ?? '' }),
    ...(facts.setUp === undefined ? {} : { slate: slateOf(facts.setUp, facts.take) }),
    role: facts.role, roleConfidence: 0.95,
    roleEvidence: facts.role === 'unknown' ? [] : [{ role: facts.role, kind: 'log', weight: 0.95, words: `${REPORT}, ${line}, column pass says "${facts.role}"` }],
    ...(facts.circled === undefined ? {} : { circled: facts.circled }),
    notes: [], date: '2026-11-25',
    ...(facts.start === undefined ? {} : { start: parseLabel(facts.start, format), timecodeFormat: format }),
    ...(facts.frames === undefined ? {} : { frames: facts.frames, rate }),
    lens: present({ model: pick('lens'), serial: pick('lensSerial'), focalLengthMm: pick('focalLength'), focusDistanceM: pick('focusDistance'), stop: pick('stop'), filters: pick('filters'), squeeze: pick('squeeze') }),
    exposure: present({ shutterDeg: shutter?.value.kind === 'angle' ? { ...shutter, value: shutter.value.degrees } : undefined, ei: pick('ei'), whiteBalanceK: pick('whiteBalance'), tint: pick('tint') }),
    position: present({ heightM: pick('cameraHeight'), tiltDeg: pick('tilt'), rollDeg: pick('rollAngle'), subjectDistanceM: pick('subjectDistance'), backgroundDistanceM: pick('backgroundDistance') }),
    picture: present({ raster: pick('raster') }),
    tracks: [], statements, disagreements: [], problems: [], ...facts.over,
  };
}

/** A finding in one line. */
export function finding(code: Finding['code'], severity: Finding['severity'], subject: readonly ClipId[], measured: Finding['measured'], allowed: Finding['allowed'], consequence: string, remedy: string, evidence: readonly string[]): Finding {
  return { code, severity, subject: subject.toSorted(), ...(measured === undefined ? {} : { measured }), ...(allowed === undefined ? {} : { allowed }), consequence, remedy, evidence };
}

interface SetFacts {
  readonly id: string; readonly slate: string; readonly camera: string; readonly method: Method; readonly methodFrom: string;
  readonly clips: readonly Clip[]; readonly matches: readonly LeadMatch[]; readonly proposed?: JudgedSet['matched']['proposed'];
  readonly verdict: JudgedSet['verdict']; readonly reason: string; readonly findings: readonly Finding[]; readonly countingLeads: readonly ClipId[];
  readonly needed: readonly NeededRange[]; readonly coverage: readonly PassCoverage[]; readonly missingRoles?: readonly Role[];
  readonly corrections?: JudgedSet['correctionsUsed']; readonly shots?: readonly ShotRow[]; readonly marks?: readonly MoveMark[];
}

/** A judged set from its parts. */
export function judged(facts: SetFacts): JudgedSet {
  return {
    matched: {
      set: { id: facts.id, slate: facts.slate, camera: facts.camera, method: facts.method, methodFrom: facts.methodFrom, clips: facts.clips },
      matches: facts.matches, proposed: facts.proposed ?? [], leftOver: [],
    },
    verdict: facts.verdict, reason: facts.reason, findings: facts.findings, countingLeads: facts.countingLeads, needed: facts.needed,
    coverage: facts.coverage, missingRoles: facts.missingRoles ?? [], correctionsUsed: facts.corrections ?? [], shots: facts.shots ?? [], marks: facts.marks ?? [],
  };
}

/** The whole lead take as the needed range, no handles. */
export function wholeTake(lead: Clip): NeededRange {
  return { lead: lead.id, basis: 'lead-take', cut: { start: 0, end: lead.frames ?? 0 }, handles: { head: 0, tail: 0 }, from: 'no cut known: the whole lead take' };
}

/** Coverage of each needed range by each pass laid under the lead by its offset, reckoned frame by frame. */
export function coverAll(needed: readonly NeededRange[], passes: readonly (readonly [Clip, Role, number])[]): PassCoverage[] {
  return needed.flatMap((range) =>
    passes.map(([clip, role, offset]): PassCoverage => {
      const available = { start: 0 - offset, end: (clip.frames ?? 0) - offset };
      const absent = (start: number, end: number): number => {
        let count = 0;
        for (let frame = start; frame < end; frame += 1) if (frame < available.start || frame >= available.end) count += 1;
        return count;
      };
      const middle = Math.floor((range.cut.start + range.cut.end) / 2);
      return {
        clip: clip.id, role, needed: range, available,
        missingHead: absent(range.cut.start, middle), missingTail: absent(middle, range.cut.end),
        missingHeadHandle: absent(range.cut.start - range.handles.head, range.cut.start), missingTailHandle: absent(range.cut.end, range.cut.end + range.handles.tail), gaps: [],
      };
    }),
  );
}

/** A match chosen at cost 1. */
export function matched(clip: ClipId, role: Role, sync: Sync, runnerUp?: { clip: ClipId; cost: number }): PassMatch {
  return {
    clip, role, sync, cost: 1, terms: [{ name: 'clock', cost: 1, words: 'shot eight minutes later: +1' }], confirmed: false,
    ...(runnerUp === undefined ? {} : { runnerUp, margin: runnerUp.cost - 1 }),
  };
}

function assumed(offset: number): Sync {
  return { method: 'assumed', offset, confidence: 0.3, words: 'no evidence: laid head to head' };
}

const METHOD_BASE = { repeatedMove: false, elementReplacesSwapped: false, skipChecks: [], syncAssumed: 'note', references: [] } as const;
const SPLIT: Method = { ...METHOD_BASE, name: 'split', description: 'plain split line, camera locked off', required: ['lead', 'swapped', 'clean'], wanted: [], movingCamera: false };
const MOCO: Method = { ...METHOD_BASE, name: 'moco', description: 'repeats of one motion-control move', required: ['lead', 'swapped', 'clean'], wanted: [], movingCamera: true, repeatedMove: true };
const HANDHELD: Method = { ...METHOD_BASE, name: 'handheld', description: 'handheld, repeated by marks', required: ['lead', 'swapped', 'clean'], wanted: [], movingCamera: true };
const HEAD: Method = { ...METHOD_BASE, name: 'head-replacement', description: 'the lead with the double, the performer’s head from a second pass', required: ['lead', 'swapped', 'clean'], wanted: ['reference'], movingCamera: true, references: ['texture or scan reference'] };

function slateOf(setUp: string, take: number | undefined): NonNullable<Clip['slate']> {
  const parts = /^(\d*)([A-Z]*)$/.exec(setUp);
  return { scene: parts?.[1] ?? '', setUp: parts?.[2] ?? setUp, ...(take === undefined ? {} : { take }), pickUp: false, series: false, prefix: '', suffix: '', text: take === undefined ? setUp : `${setUp}-${take}` };
}

function stated(kind: SourceKind, file: string, line: string, facts: Partial<FieldValues>): Statement[] {
  return Object.entries(facts).map(([field, value]) => {
    const source: Source = { kind, file, place: kind === 'report' ? `${line}, column ${field}` : '' };
    return { field, value, raw: typeof value === 'object' ? JSON.stringify(value) : String(value), source } as Statement;
  });
}

function present<T extends object>(facts: { readonly [K in keyof T]: T[K] | undefined }): T {
  return Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== undefined)) as T;
}
