import type { JudgedSet } from '../../core/checks/judged.ts';
import type { NeededRange, PassCoverage } from '../../core/coverage/coverage.ts';
import type { Correction } from '../../core/material/correction.ts';
import type { LeadMatch, PassMatch } from '../../core/material/plate-set.ts';
import type { MoveMark, ShotRow } from '../../core/material/shot-list.ts';
import type { FrameRange } from '../../core/timecode/range.ts';
import { cutOf } from './report-cut.ts';
import { sortedBy, tidyNumber } from './order.ts';
import { alongOf } from './report-along.ts';
import { pictureOf } from './report-picture.ts';
import { findingsOf } from './report-finding.ts';

/** One plate set of the report, with its matches, ranges, findings and verdict. */
export type ReportSet = ReturnType<typeof setOf>;

/** A judged set as the report holds it. */
export function setOf(judged: JudgedSet) {
  const { set, matches, proposed, leftOver } = judged.matched;
  return {
    id: set.id,
    slate: set.slate,
    camera: set.camera,
    method: set.method.name,
    methodFrom: set.methodFrom,
    verdict: judged.verdict,
    reason: judged.reason,
    clips: set.clips.map(({ id }) => id).toSorted(),
    countingLeads: judged.countingLeads.toSorted(),
    missingRoles: judged.missingRoles.toSorted(),
    matches: sortedBy(matches, ({ lead }) => lead).map((match) => ({ ...leadMatchOf(match), ...pictureOfLead(judged, match) })),
    proposed: sortedBy(proposed, (entry) => JSON.stringify([entry.lead, entry.clip, entry.role, entry.why])).map(({ lead, clip, role, why }) => ({ lead, clip, role, why })),
    leftOver: sortedBy(leftOver, (entry) => entry.clip).map(({ clip, why }) => ({ clip, why })),
    ranges: rangesOf(judged.needed, judged.coverage),
    shots: sortedBy(judged.shots, (shot) => JSON.stringify([shot.shot, shot.from])).map(shotOf),
    marks: sortedBy(judged.marks, (mark) => JSON.stringify([mark.take ?? null, mark.pass, mark.tc ?? null, mark.timeS ?? null, mark.mark, mark.from])).map(markOf),
    ...alongOf(judged),
    corrections: sortedBy(judged.correctionsUsed, ({ id }) => id).map(correctionOf),
    findings: findingsOf(judged.findings),
  };
}

/** What pictures say of a lead and its passes; absent when they were not looked at. */
function pictureOfLead({ pictures = [] }: JudgedSet, { lead }: LeadMatch) {
  const found = pictures.find((one) => one.lead === lead);
  if (found === undefined) return {};
  return { picture: found.kind === 'measured' ? pictureOf(found.picture, found.standIns) : { cannotTell: found.why } };
}

function leadMatchOf(match: LeadMatch) {
  return {
    lead: match.lead,
    swapped: match.swapped === undefined ? null : passMatchOf(match.swapped),
    clean: match.clean === undefined ? null : passMatchOf(match.clean),
    elements: sortedBy(match.elements, ({ clip }) => clip).map(passMatchOf),
    references: sortedBy(match.references, ({ clip }) => clip).map(passMatchOf),
  };
}

function passMatchOf(match: PassMatch) {
  return {
    clip: match.clip,
    offset: match.sync.offset + 0,
    sync: { method: match.sync.method, confidence: tidyNumber(match.sync.confidence), words: match.sync.words },
    runnerUp: match.runnerUp?.clip ?? null,
    margin: match.margin === undefined ? null : tidyNumber(match.margin),
    confirmed: match.confirmed,
    cost: tidyNumber(match.cost),
    terms: match.terms.map(({ name, cost, words }) => ({ name, cost: tidyNumber(cost), words })),
  };
}

/** Each needed range with every pass laid against it. Frames are counted from the lead's first; ends are exclusive. */
function rangesOf(needed: readonly NeededRange[], coverage: readonly PassCoverage[]) {
  const keyOf = (range: NeededRange): string => JSON.stringify([range.lead, range.cut.start, range.cut.end, range.shot ?? null, range.from]);
  return sortedBy(needed, keyOf).map((range) => ({
    lead: range.lead,
    shot: range.shot ?? null,
    basis: range.basis,
    from: range.from,
    cut: rangeOf(range.cut),
    handles: { head: range.handles.head, tail: range.handles.tail },
    passes: sortedBy(
      coverage.filter((cover) => keyOf(cover.needed) === keyOf(range)),
      ({ role, clip }) => JSON.stringify([role, clip]),
    ).map((cover) => ({
      clip: cover.clip,
      role: cover.role,
      available: rangeOf(cover.available),
      missingHead: cover.missingHead,
      missingTail: cover.missingTail,
      missingHeadHandle: cover.missingHeadHandle,
      missingTailHandle: cover.missingTailHandle,
      gaps: cover.gaps.map(rangeOf),
    })),
  }));
}

/** `+ 0` turns a minus zero into a zero. */
function rangeOf({ start, end }: FrameRange) {
  return { start: start + 0, end: end + 0 };
}

function shotOf({ shot, take, vendor, description, cutIn, cutOut, notes, inCut, from }: ShotRow) {
  return {
    shot,
    take: take ?? null,
    vendor: vendor ?? null,
    description: description ?? null,
    cutIn: cutIn ?? null,
    cutOut: cutOut ?? null,
    notes: notes ?? null,
    inCut: inCut === undefined ? null : cutOf(inCut),
    from,
  };
}

function markOf(mark: MoveMark) {
  const number = (value: number | undefined): number | string | null => (value === undefined ? null : tidyNumber(value));
  return {
    take: mark.take ?? null,
    pass: mark.pass,
    mark: mark.mark,
    tc: mark.tc ?? null,
    timeS: number(mark.timeS),
    xM: number(mark.x),
    yM: number(mark.y),
    zM: number(mark.z),
    panDeg: number(mark.pan),
    tiltDeg: number(mark.tilt),
    rollDeg: number(mark.roll),
    focalLengthMm: number(mark.focalLengthMm),
    focusDistanceM: number(mark.focusDistanceM),
    notes: mark.notes ?? null,
    from: mark.from,
  };
}

function correctionOf(correction: Correction) {
  return { id: correction.id, kind: correction.kind, who: correction.who, why: correction.why, from: correction.from, does: correctionWords(correction) };
}

/** What a correction fixes, as one line: "sync: A003C013.mov lies 6 frames earlier than its lead A003C012.mov". */
export function correctionWords(correction: Correction): string {
  switch (correction.kind) {
    case 'slate': return `slate of ${correction.clip} is ${correction.slate}`;
    case 'role': return `${correction.clip} is a ${correction.role} pass`;
    case 'confirm': return `${correction.clip} belongs to lead ${correction.lead}${correction.role === undefined ? '' : ` as its ${correction.role} pass`}`;
    case 'forbid': return `${correction.clip} does not belong to lead ${correction.lead}`;
    case 'sync': return `frame of ${correction.clip} = frame of ${correction.lead} ${correction.offset < 0 ? '−' : '+'} ${Math.abs(correction.offset)}`;
  }
  return correction satisfies never;
}
