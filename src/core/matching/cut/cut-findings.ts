import type { CutEvent } from '../../material/cut-event.ts';
import type { Finding } from '../../material/finding.ts';
import { groupBy } from '../sorted.ts';
import type { FoundClip } from './find-clips.ts';
import type { TiedEvent } from './lay-layer.ts';
import { placeText } from './lay-layer.ts';

/** An event of a cut that could not be tied to a clip, and why. */
export interface EventDoubt {
  readonly event: CutEvent;
  readonly found: Exclude<FoundClip, { kind: 'found' }>;
}

/** More events than this without a clip are told by their number: the cut of a whole film names the clips of every day. */
const TOLD_SINGLY = 5;

/** What a cut says that the clips of the day do not answer to, and passes it uses without their lead. */
export function raiseCutDoubts(doubts: readonly EventDoubt[], alone: readonly TiedEvent[]): readonly Finding[] {
  const missing = doubts.filter(({ found }) => found.kind === 'none').map(({ event }) => event);
  return [
    ...doubts.flatMap(raiseDoubt),
    ...[...groupBy(missing, ({ file }) => file).values()].flatMap((events) => (events.length > TOLD_SINGLY ? [raiseManyMissing(events)] : events.map(raiseMissing))),
    ...alone.map(raiseAlone),
  ];
}

function raiseDoubt({ event, found }: EventDoubt): readonly Finding[] {
  const where = placeText(event.file, event.place);
  switch (found.kind) {
    case 'several':
      return [{
        code: 'ambiguous-match',
        severity: 'warn',
        subject: found.clips.map(({ id }) => id).toSorted(),
        measured: { value: found.clips.length, unit: 'clips' },
        allowed: { value: 1, unit: 'clip' },
        consequence: `${where}: event ${event.number} answers to ${found.clips.map(({ file }) => file).toSorted().join(', ')} by ${found.by}: none of them is taken, and its shot is not judged.`,
        remedy: 'Export the cut with full clip names (FROM CLIP NAME), or give only the folders it was cut from.',
        evidence: [where],
      }];
    case 'misplaced':
      return [{
        code: 'sources-disagree',
        severity: 'warn',
        subject: [found.clip.id],
        measured: { value: found.why, unit: '' },
        allowed: { value: 'a source range that the clip holds', unit: '' },
        consequence: `${where}: event ${event.number} names ${found.clip.file}, but ${found.why}: it is not known which frames are meant, so its shot is not judged.`,
        remedy: 'Check the source timecode of the event, and that the clip is the camera original it was cut from.',
        evidence: [where],
      }];
    case 'none': return [];
    default: return found satisfies never;
  }
}

function raiseMissing(event: CutEvent): Finding {
  const where = placeText(event.file, event.place);
  return {
    code: 'unused-row',
    severity: 'note',
    subject: [],
    measured: { value: nameOf(event), unit: '' },
    allowed: { value: 'a clip of the day', unit: '' },
    consequence: `${where}: event ${event.number} (${nameOf(event)}) names no clip that is here.`,
    remedy: 'Nothing, if its media lies elsewhere; else bring in its clip.',
    evidence: [where],
  };
}

function raiseManyMissing(events: readonly CutEvent[]): Finding {
  const [first] = events;
  const file = first?.file ?? '';
  const examples = events.slice(0, TOLD_SINGLY).map((event) => `${event.place}: ${nameOf(event)}`);
  return {
    code: 'unused-row',
    severity: 'note',
    subject: [],
    measured: { value: events.length, unit: 'events' },
    allowed: { value: 0, unit: 'events' },
    consequence: `${file}: ${events.length} events name clips that are not here.`,
    remedy: 'Nothing, if their media lies elsewhere; else bring in their clips.',
    evidence: [...examples, ...(events.length > TOLD_SINGLY ? [`and ${events.length - TOLD_SINGLY} more`] : [])],
  };
}

function raiseAlone({ event, clip }: TiedEvent): Finding {
  const where = placeText(event.file, event.place);
  return {
    code: 'unused-row',
    severity: 'note',
    subject: [clip.id],
    measured: { value: clip.role, unit: '' },
    allowed: { value: 'a lead pass beneath it', unit: '' },
    consequence: `${where}: event ${event.number} uses ${clip.file} (${clip.role}) with no lead pass over or under it: it makes no shot.`,
    remedy: 'Nothing, if the cut means it so; else lay its lead under it, or put its role right in the corrections file.',
    evidence: [where],
  };
}

function nameOf({ clipName, sourceFile, reel }: CutEvent): string {
  return [...new Set([clipName ?? sourceFile, reel === undefined ? undefined : `reel ${reel}`].filter((part) => part !== undefined))].join(', ') || 'no name';
}
