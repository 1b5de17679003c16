import type { Finding, Severity } from '../../material/finding.ts';
import { groupBy } from '../sorted.ts';
import type { EventDoubt, ToldEvent } from './untied-events.ts';
import { sourceName } from './untied-events.ts';

/** More events than this without a clip and without a code are told by their number: the cut of a whole film names the clips of every day. */
const TOLD_SINGLY = 5;

/** What a cut says that the clips of the day do not answer to, and passes it uses without their lead. */
export function raiseCutDoubts(told: readonly ToldEvent[]): readonly Finding[] {
  const nameless = told.filter((one) => one.doubt.kind === 'untied' && one.doubt.found.kind === 'none' && !one.coded && !one.listed);
  const together = [...groupBy(nameless, ({ doubt, makesShot }) => JSON.stringify([doubt.kind === 'untied' && doubt.event.file, makesShot])).values()].filter(({ length }) => length > TOLD_SINGLY);
  const grouped = new Set(together.flat());
  return [...told.filter((one) => !grouped.has(one)).map(raiseUntied), ...together.map(raiseTogether)];
}

/** A shot that the shot list names must not be lost; one that may be lost must be looked at. */
function severityOf({ doubt, listed, makesShot }: ToldEvent): Severity {
  if (listed && makesShot) return 'stop';
  return makesShot || (doubt.kind === 'untied' && doubt.found.kind !== 'none') ? 'warn' : 'note';
}

function raiseUntied(one: ToldEvent): Finding {
  const { doubt, why, remedy, from, coded, shot, listed } = one;
  // What was found and expected of a line stands in the finding already.
  const told = doubt.kind === 'unread' ? `${from}: an event that could not be read, so its shot is not judged.` : why;
  const of = coded ? ` It is ${shot}${listed ? ', which the shot list names' : ''}.` : '';
  return { ...factsOf(doubt), severity: severityOf(one), consequence: `${told}${of}`, remedy, evidence: [from] };
}

function factsOf(doubt: EventDoubt): Pick<Finding, 'code' | 'subject' | 'measured' | 'allowed'> {
  if (doubt.kind === 'unread') {
    const { code, found, expected } = doubt.event.problem;
    return { code, subject: [], measured: { value: found, unit: '' }, allowed: { value: expected, unit: '' } };
  }
  if (doubt.kind === 'alone') {
    return { code: 'unused-row', subject: [doubt.clip.id], measured: { value: doubt.clip.role, unit: '' }, allowed: { value: 'a lead pass beneath it', unit: '' } };
  }
  const { found, event } = doubt;
  switch (found.kind) {
    case 'several':
      return { code: 'ambiguous-match', subject: found.clips.map(({ id }) => id).toSorted(), measured: { value: found.clips.length, unit: 'clips' }, allowed: { value: 1, unit: 'clip' } };
    case 'misplaced':
      return { code: 'sources-disagree', subject: [found.clip.id], measured: { value: found.why, unit: '' }, allowed: { value: 'a source range that the clip holds', unit: '' } };
    case 'none':
      return { code: 'unused-row', subject: [], measured: { value: sourceName(event), unit: '' }, allowed: { value: 'a clip of the day', unit: '' } };
    default: return found satisfies never;
  }
}

function raiseTogether(events: readonly ToldEvent[]): Finding {
  const [first] = events;
  const file = first?.doubt.kind === 'untied' ? first.doubt.event.file : '';
  const examples = events.slice(0, TOLD_SINGLY).flatMap(({ doubt }) => (doubt.kind === 'untied' ? [`${doubt.event.place}: ${sourceName(doubt.event)}`] : []));
  return {
    code: 'unused-row',
    severity: first?.makesShot === true ? 'warn' : 'note',
    subject: [],
    measured: { value: events.length, unit: 'events' },
    allowed: { value: 0, unit: 'events' },
    consequence: `${file}: ${events.length} events name clips that are not here.`,
    remedy: 'Nothing, if their media lies elsewhere; else bring in their clips.',
    evidence: [...examples, `and ${events.length - TOLD_SINGLY} more`],
  };
}
