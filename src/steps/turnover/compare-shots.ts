import { framesWords } from '../../formats/sheet/clip-words.ts';
import { lengthOf } from '../../core/timecode/range.ts';
import { runWords } from '../../formats/turnover/pull-list.ts';
import type { ShotFile } from '../../formats/turnover/shot-file.ts';
import type { ShotState } from '../../formats/turnover/turnover-file.ts';

/** What a shot is against the turnover before. Kinds as people say them; `plates` tells whether what a vendor holds no longer serves. */
export interface ShotChange {
  readonly kinds: readonly ChangeKind[];
  readonly words: readonly string[];
  readonly plates: boolean;
}

export type ChangeKind = 'new' | 'unchanged' | 'longer' | 'shorter' | 're-timed' | 'moved' | 'other take' | 're-synced' | 'other delivery';

/** A shot that was not there before. */
export const NEW_SHOT: ShotChange = { kinds: ['new'], words: ['Not turned over before.'], plates: true };

interface Noted {
  readonly kind: ChangeKind;
  readonly words: string;
  readonly plates: boolean;
}

/** Compares a shot with what was turned over of it. A shot that only moved in the cut needs no other plates. */
export function compareShots(before: ShotState, now: ShotState, shot: ShotFile): ShotChange {
  const noted = [...takeChanges(before, now), ...(before.lead === now.lead ? lengthChanges(before, now, shot) : []), ...timeChanges(before, now), ...deliveryChanges(before, now)];
  if (noted.length === 0) return { kinds: ['unchanged'], words: ['Nothing changed.'], plates: false };
  return { kinds: [...new Set(noted.map(({ kind }) => kind))], words: noted.map(({ words }) => words), plates: noted.some(({ plates }) => plates) };
}

function takeChanges(before: ShotState, now: ShotState): readonly Noted[] {
  const changes: Noted[] = [];
  if (before.lead !== now.lead) changes.push({ kind: 'other take', words: `The lead is now ${now.lead}, it was ${before.lead}.`, plates: true });
  for (const role of [...new Set([...before.passes, ...now.passes].map((pass) => pass.role))].filter((one) => one !== 'lead').toSorted()) {
    const were = before.passes.filter((pass) => pass.role === role);
    const are = now.passes.filter((pass) => pass.role === role);
    const names = (passes: typeof were): string => (passes.length === 0 ? 'none' : passes.map(({ clip }) => clip).join(', '));
    if (names(were) !== names(are)) changes.push({ kind: 'other take', words: `${role}: now ${names(are)}, it was ${names(were)}.`, plates: true });
    else if (before.lead === now.lead && were.some(({ offset }, index) => offset !== are[index]?.offset)) {
      changes.push({ kind: 're-synced', words: `${role}: now lies at an offset of ${are.map(({ offset }) => offset).join(', ')} frames, it was ${were.map(({ offset }) => offset).join(', ')}.`, plates: true });
    }
  }
  return changes;
}

function lengthChanges(before: ShotState, now: ShotState, shot: ShotFile): readonly Noted[] {
  const cut = lengthOf(now.cut) - lengthOf(before.cut);
  const sameCut = before.cut.start === now.cut.start && before.cut.end === now.cut.end;
  const ends = [
    { more: before.pull.start - now.pull.start, end: 'head', first: shot.numbers.first },
    { more: now.pull.end - before.pull.end, end: 'tail', first: shot.numbers.last + 1 - Math.max(0, now.pull.end - before.pull.end) },
  ].filter(({ more }) => more !== 0);
  const changes = ends.map(({ more, end, first }): Noted => {
    if (more < 0) return { kind: 'shorter', words: `${framesWords(-more)} fewer at the ${end}.`, plates: true };
    return { kind: 'longer', words: `${framesWords(more)} more at the ${end} (${runWords(first, first + more - 1)}): ${thereWords(shot, first, first + more - 1)}.`, plates: true };
  });
  if (changes.length === 0 && !sameCut) return [{ kind: cut > 0 ? 'longer' : 'shorter', words: `The cut is ${framesWords(Math.abs(cut))} ${cut > 0 ? 'longer' : 'shorter'} within the same pull.`, plates: true }];
  return changes;
}

/** Whether the frames that are needed now are there, pass by pass. */
function thereWords(shot: ShotFile, first: number, last: number): string {
  const lacking = shot.passes.flatMap(({ role, missing, numbers, lies }) => {
    if (lies !== 'in sync') return [];
    if (numbers === null) return [`${role} has none of them`];
    const gone = missing.reduce((sum, run) => sum + Math.max(0, Math.min(last, run.last) - Math.max(first, run.first) + 1), 0);
    return gone === 0 ? [] : [`${role} lacks ${gone} of them`];
  });
  return lacking.length === 0 ? 'all there' : lacking.join(', ');
}

function timeChanges(before: ShotState, now: ShotState): readonly Noted[] {
  const changes: Noted[] = [];
  const retimes = ({ retime, passes }: ShotState): string => JSON.stringify([retime, ...passes.map((pass) => pass.retime)]);
  if (retimes(before) !== retimes(now)) changes.push({ kind: 're-timed', words: `Speed: now ${now.retime ?? 'as shot'}, it was ${before.retime ?? 'as shot'}.`, plates: true });
  if (before.record !== null && now.record !== null && before.record.start !== now.record.start) {
    const frames = now.record.start - before.record.start;
    changes.push({ kind: 'moved', words: `Lies ${framesWords(Math.abs(frames))} ${frames > 0 ? 'later' : 'earlier'} in the cut.`, plates: false });
  }
  return changes;
}

/** Frames or movies that are asked for now and were not delivered then. */
function deliveryChanges(before: ShotState, now: ShotState): readonly Noted[] {
  const pictures = now.pictures !== null && now.pictures !== before.pictures ? [`frames as ${now.pictures.toUpperCase()}`] : [];
  const movies = now.movies && !before.movies ? ['reference movies'] : [];
  const more = [...pictures, ...movies];
  return more.length === 0 ? [] : [{ kind: 'other delivery', words: `Now with ${more.join(' and ')}.`, plates: true }];
}
