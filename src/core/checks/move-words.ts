import type { Channel } from '../optics/moves/attribute.ts';
import type { MarkComparison, MarkDifference } from '../optics/moves/compare-marks.ts';
import type { MarkProblem } from '../optics/moves/mark-problems.ts';
import type { MoveFigures } from '../optics/moves/move-figures.ts';
import type { StanceDifference } from '../optics/moves/stance.ts';
import type { Severity } from '../material/finding.ts';
import type { ComparedMove, Seen } from './compared-move.ts';
import type { Wording } from './consequence.ts';
import { figure, metres } from './evidence.ts';
import { clipName, listed, roleName } from './passes.ts';

type Tracked = Extract<ComparedMove, { kind: 'tracked' }>;
type Noted = Extract<ComparedMove, { kind: 'marks' }>;

/** Which figures of a tracked comparison are told: as the sync lays the passes, or with the delay taken out because the sync is no more than a guess. */
export interface ToldFigures {
  readonly figures: MoveFigures;
  readonly isAligned: boolean;
}

/** What a compositor sees of two tracked moves that differ, and what to do. */
export function wordsOfTracked(move: Tracked, { figures, isAligned }: ToldFigures, severity: Severity): Wording {
  const { comparison: { worst }, passes, each } = move;
  const at = (frame: number): number => Math.floor(frame / each);
  const where = isAligned ? 'once the delay between them is taken out, ' : '';
  const parallax = figures.parallax.worstPx;
  return {
    consequence:
      `${passText(move)} does not follow the move of the lead ${clipName(passes.lead)}: ${where}things on the near plane${planeText(move, 'near')} lie up to ${px(figures.near.worstPx)} off at frame ${at(figures.near.worstFrame)} of the lead (counted from 0) ` +
      `and things on the far plane${planeText(move, 'far')} up to ${px(figures.far.worstPx)} at frame ${at(figures.far.worstFrame)}. A warp, frame by frame, can undo the ${px(figures.far.worstPx)} of the far plane; ` +
      `the parallax between the two, up to ${px(parallax)} at frame ${at(figures.parallax.worstFrame)}, stays whatever the warp.${stanceSentence(worst, at(worst.frame))}${timingSentence(move)}${channelSentence(move)}`,
    remedy: remedyFor(severity, parallax > move.limits.parallaxPx.warn, `${passText(move, 'the')}`, move),
  };
}

/** What a compositor sees of marks that differ, and what to do. */
export function wordsOfMarks(move: Noted, worst: MarkDifference, severity: Severity): Wording {
  const { passes, comparison } = move;
  const parallax = worst.px?.parallaxPx;
  const seen = worst.px === undefined
    ? 'how many px that is cannot be said without a focal length.'
    : `things on the near plane${planeText(move, 'near')} lie up to ${px(worst.px.nearPx)} off there and things on the far plane${planeText(move, 'far')} up to ${px(worst.px.farPx)}. ` +
      (parallax === undefined ? 'Of parallax nothing can be said without the place of the camera (x, y, z).' : `A warp can undo the ${px(worst.px.farPx)} of the far plane; the ${px(parallax)} of parallax between the two stay whatever the warp.`);
  return {
    consequence: `${passText(move)} does not go through the marks as the lead ${clipName(passes.lead)} does: at mark "${worst.name}" the camera ${stanceText(worst.stance) || 'stood alike'}${lateText(worst)}; ${seen}${speedSentence(comparison)}`,
    remedy: remedyFor(severity, (parallax ?? 0) > move.limits.parallaxPx.warn, passText(move, 'the'), move),
  };
}

/** One line for each mark: place, turn, time, px. */
export function markLine({ name, stance, px: cost, notCompared, ...rest }: MarkDifference): string {
  const parallax = cost?.parallaxPx === undefined ? '' : `, parallax ${px(cost.parallaxPx)}`;
  const inPx = cost === undefined ? '' : `: near ${px(cost.nearPx)}, far ${px(cost.farPx)}${parallax}`;
  const without = notCompared.length === 0 ? '' : ` (not on record for both: ${notCompared.join(', ')})`;
  return `mark "${name}": camera ${stanceText(stance) || 'stood alike'}${lateText(rest)}${inPx}${without}`;
}

/** Why two moves that are both on record could not be held against each other. */
export function wordsOfNotCompared({ passes, why }: Extract<ComparedMove, { kind: 'not-compared' }>): Wording {
  return {
    consequence: `The moves of the lead ${clipName(passes.lead)} and of the ${roleName(passes.role)} ${clipName(passes.pass)} cannot be compared (${why}): nobody can tell whether they follow one path.`,
    remedy: 'Note the same marks with their timecode for both passes, or have both recorded by one tracker that runs on the timecode of the camera.',
  };
}

const PROBLEMS: Readonly<Record<MarkProblem['kind'], readonly [severity: Severity, seen: string, remedy: string]>> = {
  missing: ['warn', 'is not on record, though the other pass has it: whether the camera was there with the other pass nobody can tell', 'Note it with its timecode while the floor marks are down, or give it the same name in both passes.'],
  repeated: ['note', 'is noted twice for one pass: the first of the two is compared', 'Strike out the one that is not true.'],
  'without-time': ['note', 'has no time that lies in the clip: where the camera was is compared, not when', 'Add its timecode (column tc) or seconds from the sync mark (column time).'],
  backwards: ['warn', 'is noted after a mark that it comes before: one of the two times is wrong, or the rows were mixed up', 'Put the times or the order of the rows right.'],
  'other-order': ['warn', 'is reached in another order than in the lead: the camera went another way, or two names were mixed up', 'Look at both passes; put the names right, or shoot the pass again along the way of the lead.'],
};

/** How bad it is that marks of one kind of trouble stand in the notes, and the sentences for them. */
export function wordsOfProblem(kind: MarkProblem['kind'], clip: string, marks: readonly string[]): Wording & { readonly severity: Severity } {
  const [severity, seen, remedy] = PROBLEMS[kind];
  const names = listed(marks.map((mark) => `"${mark}"`));
  const text = `Of the marks of ${clip}, ${names}${marks.length > 1 ? ', each, ' : ' '}${seen}.`;
  return { severity, consequence: text, remedy };
}

function passText({ passes }: Seen, article: 'The' | 'the' = 'The'): string {
  return `${article} ${roleName(passes.role)} ${clipName(passes.pass)}`;
}

function planeText({ planes: { nearM, farM } }: Seen, which: 'near' | 'far'): string {
  const distance = which === 'near' ? nearM : farM;
  return distance === undefined ? '' : ` (${metres(distance)})`;
}

function px(value: number): string {
  return `${figure(value, value < 1 ? 2 : 1)} px`;
}

function stanceSentence(stance: StanceDifference, frame: number): string {
  const text = stanceText(stance);
  return text === '' ? '' : ` At frame ${frame} the camera ${text}.`;
}

/** "stood 12 mm to the right and 15 mm higher, turned 0.2° to the left"; "" when there is nothing to tell. */
export function stanceText({ sideMm, aboveMm, aheadMm, panDeg, tiltDeg, rollDeg, zoomPercent }: Omit<StanceDifference, 'frame'>): string {
  const place = [
    part(sideMm, 1, ['mm to the right', 'mm to the left']), part(aboveMm, 1, ['mm higher', 'mm lower']), part(aheadMm, 1, ['mm farther ahead', 'mm farther back']),
  ].filter((text) => text !== '');
  const turn = [
    part(panDeg, 2, ['° to the right', '° to the left']), part(tiltDeg, 2, ['° up', '° down']), part(rollDeg, 2, ['° clockwise', '° counter-clockwise']),
  ].filter((text) => text !== '');
  return [
    place.length === 0 ? '' : `stood ${listed(place)}`,
    turn.length === 0 ? '' : `was turned ${listed(turn)}`,
    part(zoomPercent, 2, ['% longer in focal length', '% shorter in focal length']).replace(/^/u, 'was ').replace(/^was $/u, ''),
  ].filter((text) => text !== '').join(', ');
}

function part(value: number, decimals: number, [above, below]: readonly [string, string]): string {
  const rounded = figure(Math.abs(value), decimals);
  return rounded === 0 ? '' : `${rounded}${above.startsWith('°') ? '' : ' '}${value > 0 ? above : below}`;
}

function lateText({ lateS }: Pick<MarkDifference, 'lateS'>): string {
  const seconds = lateS === undefined ? 0 : figure(Math.abs(lateS), 2);
  return seconds === 0 ? '' : `, ${seconds} s ${(lateS ?? 0) > 0 ? 'late' : 'early'}`;
}

/** A leg that takes this much longer or shorter is worth a word, percent. */
const TOLD_PERCENT = 2;

function speedSentence({ legs }: MarkComparison): string {
  const [most] = legs.toSorted((a, b) => Math.abs(b.longerPercent) - Math.abs(a.longerPercent));
  if (most === undefined || Math.abs(most.longerPercent) < TOLD_PERCENT) return '';
  return ` From "${most.from}" to "${most.to}" it takes ${figure(most.secondS, 2)} s where the lead takes ${figure(most.firstS, 2)} s (${figure(Math.abs(most.longerPercent), 1)} % ${most.longerPercent > 0 ? 'longer' : 'shorter'}).`;
}

function timingSentence({ comparison: { timing }, each }: Tracked): string {
  if (timing.kind === 'not-determinable') return ` Whether it runs early or late cannot be told from the moves: ${timing.why}.`;
  const late = timing.lateFrames / each;
  const sd = figure(timing.sdFrames / each, 2);
  const speed = timing.speed === 1 ? '' : ` and runs ${figure(Math.abs(timing.speed - 1) * 100, 1)} % ${timing.speed > 1 ? 'faster' : 'slower'}`;
  if (Math.abs(late) < 0.05 && speed === '') return '';
  return ` It does the same ${figure(Math.abs(late), 1)} frames ${late > 0 ? 'later' : 'earlier'} (± ${sd})${speed}.`;
}

const CHANNEL_WORDS: Readonly<Record<Channel, string>> = {
  side: 'the place of the camera to the side', height: 'its height', depth: 'its place along the view', pan: 'the pan', tilt: 'the tilt', roll: 'the roll', zoom: 'the focal length',
};

function channelSentence({ comparison: { channels, synced } }: Tracked): string {
  const [most] = channels;
  return most === undefined || most.dropPx < synced.near.rmsPx * 0.2 ? '' : ` Most of it comes from ${CHANNEL_WORDS[most.channel]}.`;
}

function remedyFor(severity: Severity, hasParallax: boolean, pass: string, { passes }: Seen): string {
  const again = passes.method.repeatedMove ? 'Check the homing of the rig and the offset of the trigger' : 'Put the camera back on the marks of the lead';
  if (severity === 'stop') return `${again} and shoot ${pass} again while the set stands.`;
  const compare = `Compare ${pass} with the lead ${clipName(passes.lead)} at full size before the set is struck`;
  return hasParallax ? `${compare}; if it shows, ${again.charAt(0).toLowerCase()}${again.slice(1)} and shoot it again.` : `${compare}; tell the compositor that it needs a tracked warp.`;
}
