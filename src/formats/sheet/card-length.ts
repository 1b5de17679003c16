import type { JudgedSet } from '../../core/checks/judged.ts';
import type { NeededRange } from '../../core/coverage/coverage.ts';
import type { Clip } from '../../core/material/clip.ts';
import { framesPerLabel, labelOfFrame } from '../../core/timecode/half-rate.ts';
import { lengthOf, pullRange } from '../../core/timecode/range.ts';
import type { FrameRate } from '../../core/timecode/rate.ts';
import { formatTimecode, timecodeFormat } from '../../core/timecode/timecode.ts';
import type { CardFact } from './card-content.ts';
import { framesWords, labelAt, secondsWords } from './clip-words.ts';
import { rangeTitle, sortedNeeds } from './coverage-drawing.ts';

/** How long the pass must run: for each range of this lead, cut and handles in frames, seconds and timecode length, and where they lie on the lead. */
export function cardLengths(judged: JudgedSet, lead: Clip): readonly CardFact[] {
  const needs = sortedNeeds(judged.needed).filter((needed) => needed.lead === lead.id);
  const { enoughCleanFrames, missingRoles } = judged;
  const onlyClean = enoughCleanFrames !== undefined && missingRoles.every((role) => role === 'clean');
  const ranges = needs.map((needed) => ({ label: `${rangeTitle(needed)}${onlyClean ? ' (wished)' : ''}`, value: lengthWords(needed, lead), also: `on the lead: ${placeWords(needed, lead)}` }));
  if (enoughCleanFrames === undefined) return ranges;
  // The camera is locked off, so a plate that is held may be shorter than the shot.
  const enough: CardFact = { label: 'Clean plate, enough', value: countWords(enoughCleanFrames, lead), also: 'the camera is locked off and the plate is held; wished: the whole length' };
  return [enough, ...ranges];
}

function lengthWords(needed: NeededRange, lead: Clip): string {
  return countWords(lengthOf(pullRange(needed.cut, needed.handles)), lead);
}

function countWords(frames: number, lead: Clip): string {
  if (lead.rate === undefined) return framesWords(frames);
  return `${framesWords(frames)} = ${secondsWords(frames, lead.rate)} = TC ${tcLength(frames, lead, lead.rate)}`;
}

function placeWords({ cut, handles }: NeededRange, lead: Clip): string {
  const pull = pullRange(cut, handles);
  const labels = [labelAt(lead, pull.start), labelAt(lead, pull.end - 1)];
  const place = labels[0] === undefined || labels[1] === undefined ? `frames ${pull.start} to ${pull.end - 1}` : `${labels[0]} to ${labels[1]}, last frame in`;
  return handles.head + handles.tail === 0 ? place : `${place}; handles of ${handles.head} and ${handles.tail} frames are part of it`;
}

/** The length as a label: frames counted from 00:00:00:00 the way the lead counts them. */
function tcLength(frames: number, lead: Clip, rate: FrameRate): string {
  const format = lead.start?.format ?? lead.timecodeFormat ?? timecodeFormat(rate, false);
  return formatTimecode(labelOfFrame({ frame: 0, format }, frames, framesPerLabel(rate, format) ?? 1));
}
