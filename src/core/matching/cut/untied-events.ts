import { foldSlate, namesLead } from '../../coverage/shot-of-lead.ts';
import type { Clip } from '../../material/clip.ts';
import { withoutExtension } from '../../material/clip-names.ts';
import type { UntiedEvent } from '../../material/cut.ts';
import type { CutEvent, UnreadEvent } from '../../material/cut-event.ts';
import type { ShotRow } from '../../material/shot-list.ts';
import { foldCode } from './cut-rows.ts';
import type { FoundClip } from './find-clips.ts';
import { placeText } from './lay-layer.ts';
import type { CodeReader, CodeTexts } from './name-shots.ts';

/** An event that is tied to no clip, and why; `alone` has its clip, which is no lead and lies over none. */
export type EventDoubt =
  | { readonly kind: 'alone'; readonly event: CutEvent; readonly clip: Clip }
  | { readonly kind: 'unread'; readonly event: UnreadEvent }
  | { readonly kind: 'untied'; readonly event: CutEvent; readonly onLeadTrack: boolean; readonly found: Exclude<FoundClip, { kind: 'found' }> };

/** What is told of such an event; `doubt` is what it was told from. */
export interface ToldEvent extends UntiedEvent {
  readonly doubt: EventDoubt;
}

/** Tells each event that is tied to no clip: its shot as far as that can be known, and whether one may be lost with it. */
export function tellUntied(doubts: readonly EventDoubt[], codeOf: CodeReader, rows: readonly ShotRow[]): readonly ToldEvent[] {
  return doubts.map((doubt) => {
    const texts = textsOf(doubt);
    const code = codeOf(texts);
    const mine = rowsOf(doubt, code, texts, rows);
    const [row, ...more] = mine;
    const shot = code ?? (more.length === 0 ? row?.shot : undefined);
    const { number } = doubt.event;
    return {
      doubt,
      shot: shot ?? (number === undefined ? placeOf(doubt) : `EVENT_${number}`),
      coded: shot !== undefined,
      listed: row !== undefined,
      ...(row?.vendor === undefined ? {} : { vendor: row.vendor }),
      makesShot: doubt.kind === 'unread' || (doubt.kind === 'untied' && doubt.onLeadTrack) || shot !== undefined || row !== undefined,
      ...wordsOf(doubt),
    };
  });
}

/** What a cut calls the source of an event: "A009C010.mov, reel A009C010". */
export function sourceName({ clipName, sourceFile, reel }: CutEvent): string {
  return [...new Set([clipName ?? sourceFile, reel === undefined ? undefined : `reel ${reel}`].filter((part) => part !== undefined))].join(', ') || 'no name';
}

function wordsOf(doubt: EventDoubt): Pick<UntiedEvent, 'from' | 'short' | 'why' | 'remedy'> {
  if (doubt.kind === 'unread') {
    const { problem } = doubt.event;
    const from = problem.place === '' ? problem.file : placeText(problem.file, problem.place);
    return { from, short: 'could not be read', why: `${problem.file}${problem.place === '' ? '' : `, ${problem.place}`}: found ${problem.found}; expected ${problem.expected}.`, remedy: problem.remedy };
  }
  const { event } = doubt;
  const from = placeText(event.file, event.place);
  const where = `${event.file}, ${event.place}: found event ${event.number}`;
  if (doubt.kind === 'alone') {
    const { file, role } = doubt.clip;
    return {
      from, short: 'uses a pass that is no lead, with no lead over or under it', why: `${where}, which uses ${file} (${role}); expected a lead pass over or under it. It makes no shot.`,
      remedy: 'Nothing, if the cut means it so; else lay its lead under it, or put its role right in the corrections file.',
    };
  }
  const { found } = doubt;
  switch (found.kind) {
    case 'several': {
      const files = found.clips.map(({ file }) => file).toSorted().join(', ');
      return {
        from, short: 'answers to several clips', why: `${where}, which answers to ${files} by ${found.by}; expected one clip. None of them is taken, and its shot is not judged.`,
        remedy: 'Export the cut with full clip names (FROM CLIP NAME), or give only the folders it was cut from.',
      };
    }
    case 'misplaced':
      return {
        from, short: 'names frames its clip does not hold',
        why: `${where}, which names ${found.clip.file}, but ${found.why}; expected a source range that the clip holds. Its shot is not judged.`,
        remedy: 'Check the source timecode of the event, and that the clip is the camera original it was cut from.',
      };
    case 'none':
      return {
        from, short: 'names no clip that is here', why: `${where}, which names ${sourceName(event)}; expected a clip that is here.`,
        remedy: doubt.onLeadTrack ? 'Bring in its clip, or correct the name in the cut; leave it so only if the shot needs no plates from this media.' : 'Nothing, if its media lies elsewhere; else bring in its clip.',
      };
    default: return found satisfies never;
  }
}

function placeOf({ event }: EventDoubt): string {
  return 'problem' in event ? event.problem.place || event.problem.file : event.place;
}

function textsOf({ event }: EventDoubt): CodeTexts {
  const { comments, clipName } = event;
  const markers = event.markers.map((marker) => (typeof marker === 'string' ? marker : marker.text));
  return { markers, comments, ...(clipName === undefined ? {} : { clipName }) };
}

/** Rows of the shot list for an event: by its code, by the clips it may mean, or by the slate it calls its clip. */
function rowsOf(doubt: EventDoubt, code: string | undefined, { clipName }: CodeTexts, rows: readonly ShotRow[]): readonly ShotRow[] {
  if (code !== undefined) return rows.filter(({ shot }) => foldCode(shot) === foldCode(code));
  const candidates = candidatesOf(doubt);
  if (candidates.length > 0) return rows.filter((row) => candidates.some((clip) => namesLead(row, clip)));
  // A pass that is no lead has the slate of its set, whose rows are for others.
  if (clipName === undefined || doubt.kind === 'alone') return [];
  const called = foldSlate(withoutExtension(clipName));
  return rows.filter(({ slate, take }) => called !== '' && (called === foldSlate(slate) || (take !== undefined && called === foldSlate(`${slate} ${take}`))));
}

function candidatesOf(doubt: EventDoubt): readonly Clip[] {
  if (doubt.kind !== 'untied' || doubt.found.kind === 'none') return [];
  return doubt.found.kind === 'several' ? doubt.found.clips : [doubt.found.clip];
}
