import type { ClipOptics } from '../../core/checks/clip-optics.ts';
import { isFor, marksOfClip } from '../../core/checks/marks-of-pass.ts';
import { markAt, syncMarkName } from '../../core/matching/sync-marks.ts';
import type { Clip } from '../../core/material/clip.ts';
import type { MoveMark } from '../../core/material/shot-list.ts';
import { lensFigures } from '../../core/optics/lens-figures.ts';
import type { PointValue } from '../../core/optics/moves/mark.ts';
import { soundPoint } from '../../core/optics/moves/mark.ts';
import { rateAsNumber } from '../../core/timecode/rate.ts';
import type { CardMark } from './card-content.ts';
import { feetWords, sharpWords } from './crew-units.ts';
import { markTolerances } from './mark-tolerances.ts';
import { numberWords } from './value-words.ts';

/** A mark of the lead's move, and its time. `fromSync` is false when no sync mark is on record and time counts from the lead's first frame. */
interface TimedMark {
  readonly mark: MoveMark;
  readonly seconds: number | undefined;
  readonly fromSync: boolean;
}

/** The marks, and what holds for all of them (may be empty). */
export interface CardMarks {
  readonly marks: readonly CardMark[];
  readonly remark: string;
}

/** The marks of the lead's move in the order of time, each with its time from the sync mark, its place, turn, lens, what is sharp there, and how exactly they must be met. */
export function cardMarks(marks: readonly MoveMark[], lead: Clip, optics: ClipOptics | undefined): CardMarks {
  const ofLead = marksOfLead(marks, lead);
  const sync = ofLead.map((mark) => (syncMarkName(mark.mark) === undefined ? undefined : frameOf(mark, lead))).find((frame) => frame !== undefined);
  const inOrder = ofLead
    .map((mark) => timed(mark, lead, sync))
    .toSorted((a, b) => (a.seconds ?? Number.MAX_VALUE) - (b.seconds ?? Number.MAX_VALUE) || (a.mark.from < b.mark.from ? -1 : 1));
  const tolerances = optics === undefined ? '' : markTolerances(inOrder, optics, lead.rate);
  return { marks: inOrder.map((entry) => cardMark(entry, lead, optics)), remark: tolerances === '' ? '' : `Each mark within ± ${tolerances}.` };
}

/** Notes of other passes name another take; where one take holds several, the pass column tells them apart. */
function marksOfLead(marks: readonly MoveMark[], lead: Clip): readonly MoveMark[] {
  const own = marksOfClip(lead, marks, []);
  return (own.length > 0 ? own : marks.filter((mark) => isFor(mark, lead))).map(soundMark);
}

/** What the optics call the numbers of a mark. */
const NUMBERS = [
  ['timeS', 'timeS'], ['x', 'x'], ['y', 'y'], ['z', 'z'], ['pan', 'panDeg'], ['tilt', 'tiltDeg'], ['roll', 'rollDeg'], ['focalLengthMm', 'focalLengthMm'], ['focusDistanceM', 'focusM'],
] as const satisfies readonly (readonly [keyof MoveMark, PointValue])[];

/** The mark without numbers no camera can have. */
function soundMark(mark: MoveMark): MoveMark {
  const sound: { -readonly [K in keyof MoveMark]: MoveMark[K] } = { ...mark };
  for (const [key, of] of NUMBERS) {
    const value = mark[key];
    if (value !== undefined && soundPoint({ name: mark.mark, [of]: value }).refusals.length > 0) delete sound[key];
  }
  return sound;
}

function frameOf({ tc, from }: MoveMark, lead: Clip): number | undefined {
  return tc === undefined ? undefined : markAt(lead, tc, from)?.frame;
}

function timed(mark: MoveMark, lead: Clip, sync: number | undefined): TimedMark {
  if (mark.timeS !== undefined) return { mark, seconds: mark.timeS, fromSync: true };
  const frame = frameOf(mark, lead);
  if (frame === undefined || lead.rate === undefined) return { mark, seconds: undefined, fromSync: sync !== undefined };
  return { mark, seconds: (frame - (sync ?? 0)) / rateAsNumber(lead.rate), fromSync: sync !== undefined };
}

function cardMark({ mark, seconds, fromSync }: TimedMark, lead: Clip, optics: ClipOptics | undefined): CardMark {
  const frames = seconds === undefined || lead.rate === undefined ? undefined : Math.round(seconds * rateAsNumber(lead.rate)) + 0;
  const also = [frames === undefined ? '' : `frame ${frames}`, mark.tc === undefined ? '' : `lead TC ${mark.tc}`, fromSync ? '' : 'from the lead’s first frame: no sync mark is on record'];
  return {
    name: mark.mark,
    time: seconds === undefined ? 'no time on record' : `${seconds < 0 ? '−' : '+'}${Math.abs(seconds).toFixed(2)} s`,
    also: also.filter((text) => text !== '').join(' · '),
    values: [placeWords(mark), turnWords(mark), lensWords(mark, optics), mark.notes ?? ''].filter((text) => text !== ''),
  };
}

function named(values: readonly (readonly [string, number | undefined])[], unit: string, digits: number): string {
  return values.flatMap(([name, value]) => (value === undefined ? [] : [`${name} ${numberWords(value, digits)}${unit}`])).join('   ');
}

function placeWords({ x, y, z }: MoveMark): string {
  return named([['x', x], ['y', y], ['z', z]], ' m', 3);
}

function turnWords({ pan, tilt, roll }: MoveMark): string {
  return named([['pan', pan], ['tilt', tilt], ['roll', roll]], '°', 2);
}

function lensWords({ focalLengthMm, focusDistanceM }: MoveMark, optics: ClipOptics | undefined): string {
  const lens = focalLengthMm === undefined ? '' : `${numberWords(focalLengthMm, 2)} mm`;
  if (focusDistanceM === undefined) return lens;
  const camera = { ...optics?.camera, focusM: focusDistanceM, ...(focalLengthMm === undefined ? {} : { focalLengthMm }) };
  const sharp = optics === undefined ? undefined : lensFigures(camera, undefined, optics.circleMm).sharp;
  const focus = `focus ${numberWords(focusDistanceM, 3)}${Number.isFinite(focusDistanceM) ? ` m (${feetWords(focusDistanceM)})` : ''}`;
  return [lens, focus, sharp === undefined ? '' : sharpWords(sharp)].filter((text) => text !== '').join(' · ');
}
