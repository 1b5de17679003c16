import type { Cut, CutEvent } from '../../core/material/cut-event.ts';
import type { ReadingProblem } from '../../core/material/finding.ts';
import { listProblem } from './list-problem.ts';
import { sameTrackOrder } from './track-order.ts';

/** What the events of each track say together: an overlap on one track is a fault, a gap is filler. */
export function judgeTracks(events: readonly CutEvent[], file: string): { readonly problems: readonly ReadingProblem[]; readonly gaps: Cut['gaps'] } {
  const problems: ReadingProblem[] = [];
  const gaps: { place: string; track: string; frames: number }[] = [];
  // Lists are also sorted by source, so record order is made before neighbours are compared.
  let before: CutEvent | undefined;
  for (const event of sameTrackOrder(events)) {
    if (before !== undefined && before.track === event.track) {
      const frames = event.record.start - before.record.end;
      if (frames > 0) gaps.push({ place: event.place, track: event.track, frames });
      if (frames < 0) problems.push(overlapProblem(event, before, -frames, file));
    }
    if (before === undefined || before.track !== event.track || event.record.end > before.record.end) before = event;
  }
  return { problems, gaps };
}

function overlapProblem(event: CutEvent, before: CutEvent, frames: number, file: string): ReadingProblem {
  const found = `event ${event.number} begins ${frames} frame${frames === 1 ? '' : 's'} before event ${before.number} (${before.place}) ends on ${event.track}`;
  return listProblem(file, Number(event.place.replace(/\D/gu, '')), found, 'events of one track that follow each other; both are kept');
}
