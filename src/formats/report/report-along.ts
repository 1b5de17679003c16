import type { ComparedMove } from '../../core/checks/compared-move.ts';
import type { JudgedSet } from '../../core/checks/judged.ts';
import type { LimitedCurve, PassAlong } from '../../core/checks/pass-along.ts';
import { sortedBy, tidyNumber } from './order.ts';

/** What runs along the passes of a set, in short: the worst of each lens value that changes, and what the moves amount to. Absent when nothing does. */
export function alongOf({ along = [] }: JudgedSet) {
  return along.length === 0 ? {} : { along: sortedBy(along, ({ passes }) => `${passes.lead.id} ${passes.pass.id}`).map(passAlongOf) };
}

function passAlongOf({ passes, curves, move }: PassAlong) {
  return { lead: passes.lead.id, clip: passes.pass.id, role: passes.role, lens: curves.map(lensOf), move: move === undefined ? null : moveOf(move) };
}

/** `frame` is of the lead, counted from its first; frames of which nothing is on record are not among `frames`. */
function lensOf({ curve: { of, unit, points, worst }, limit }: LimitedCurve) {
  return { of, unit, frames: points.length, limit: tidyNumber(limit), worst: tidyNumber(worst?.amount ?? 0), frame: worst?.frame ?? 0 };
}

function moveOf(move: ComparedMove) {
  switch (move.kind) {
    case 'tracked': {
      const { comparison: { synced, timing }, each, lead, pass } = move;
      const found = timing.kind === 'found' ? { lateFrames: tidyNumber(timing.lateFrames / each), speed: tidyNumber(timing.speed) } : { lateFrames: null, speed: null };
      return {
        by: move.kind, files: [lead.file, pass.file], nearPx: tidyNumber(synced.near.worstPx), farPx: tidyNumber(synced.far.worstPx),
        parallaxPx: tidyNumber(synced.parallax.worstPx), frame: Math.floor(synced.parallax.worstFrame / each), ...found,
      };
    }
    case 'marks': return {
      by: move.kind,
      worst: move.comparison.worst ?? null,
      marks: move.comparison.marks.map(({ name, lateS, px }) => ({
        mark: name, lateS: numberOf(lateS), nearPx: numberOf(px?.nearPx), farPx: numberOf(px?.farPx), parallaxPx: numberOf(px?.parallaxPx),
      })),
    };
    case 'not-compared': return { by: 'nothing' as const, why: move.why };
  }
  return move satisfies never;
}

function numberOf(value: number | undefined): ReturnType<typeof tidyNumber> {
  return value === undefined ? null : tidyNumber(value);
}
