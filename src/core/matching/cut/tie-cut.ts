import type { Clip, ClipId } from '../../material/clip.ts';
import type { CutShot, UntiedEvent } from '../../material/cut.ts';
import type { Cut, CutEvent } from '../../material/cut-event.ts';
import type { Finding } from '../../material/finding.ts';
import type { ShotRow } from '../../material/shot-list.ts';
import { groupBy } from '../sorted.ts';
import type { SyncEvidence } from '../sync.ts';
import { cutSync } from './cut-sync.ts';
import { raiseCutDoubts } from './cut-findings.ts';
import type { FoundClip } from './find-clips.ts';
import { clipFinder } from './find-clips.ts';
import type { TiedEvent } from './lay-layer.ts';
import { layLayer, placeText } from './lay-layer.ts';
import type { CodeReader, ShotNamer } from './name-shots.ts';
import { ASSUMED, shotNamer, textNamer } from './name-shots.ts';
import { neighbourFinder } from './neighbours.ts';
import type { ShotCodeRules } from './shot-code.ts';
import type { EventDoubt, ToldEvent } from './untied-events.ts';
import { tellUntied } from './untied-events.ts';

/** What a cut is tied with: the clips of the day, which of them belong together, and the shot list. */
export interface TieKnowledge {
  readonly clips: readonly Clip[];
  /** The plate set a clip belongs to; undefined for an ordinary shot. */
  readonly setOf: (clip: ClipId) => string | undefined;
  readonly shots: readonly ShotRow[];
  readonly rules: ShotCodeRules;
}

/** The shots of a cut, what it tells of the sync of their passes, and what could not be told. */
export interface TiedCut {
  readonly shots: readonly CutShot[];
  readonly evidence: readonly SyncEvidence[];
  readonly findings: readonly Finding[];
  /** Events that are tied to no clip, those that could not be read among them; muted ones show nothing and are not. */
  readonly untied: readonly UntiedEvent[];
}

/** A tied event with the timeline it lies on: edit lists are tracks of one, each other file is its own. */
interface Laid extends TiedEvent {
  readonly cut: Cut;
  readonly timeline: string;
}

/**
 * Ties the events of cuts to clips and puts together what lies over each other. Every event whose clip is a lead makes a shot; all
 * events that lie over it in the cut are its layers. Pure; the order of the files never matters.
 */
export function tieCut(cuts: readonly Cut[], known: TieKnowledge): TiedCut {
  const find = clipFinder(known.clips);
  const laid: Laid[] = [];
  const lost: { readonly cut: Cut; readonly event: CutEvent; readonly found: Exclude<FoundClip, { kind: 'found' }> }[] = [];
  for (const cut of cuts.toSorted((a, b) => (a.file < b.file ? -1 : 1))) {
    for (const event of cut.events.filter(({ content }) => content === 'clip')) {
      const found = find(event);
      if (found.kind === 'found') laid.push({ event, clip: found.clip, range: found.placed.range, tiedBy: found.tiedBy, cutRate: cut.rate, cut, timeline: timelineOf(cut) });
      else if (!event.disabled) lost.push({ cut, event, found });
    }
  }
  const stacks = stacksOf(laid, known);
  const nameOf = shotNamer(known.rules, known.shots);
  const shots = unique(stacks.map((stack) => shotOf(stack, nameOf)));
  const evidence = stacks.flatMap(({ lead, others }, index) => others.flatMap((other) => cutSync(lead, other, shots[index]?.shot ?? '') ?? []));
  const agreed = weighEvidence(evidence);
  const codeOf = textNamer(known.rules);
  const isLeadTrack = leadTracks(laid, stacks);
  const doubts: readonly EventDoubt[] = [
    ...cuts.toSorted((a, b) => (a.file < b.file ? -1 : 1)).flatMap(({ unread = [] }) => unread.map((event) => ({ kind: 'unread' as const, event }))),
    ...lost.map(({ cut, event, found }) => ({ kind: 'untied' as const, event, found, onLeadTrack: isLeadTrack(cut, event.track) })),
  ];
  const told = [...tellUntied(doubts, codeOf, known.shots), ...tellAlone(laid, stacks, shots, known, codeOf)];
  return {
    shots,
    evidence: agreed.evidence,
    findings: [...raiseCutDoubts(told), ...agreed.findings, ...doubledCodes(shots)],
    untied: told.filter(({ doubt, makesShot }) => makesShot || doubt.kind !== 'alone').map(({ doubt: _doubt, ...one }) => one),
  };
}

/** The tracks that leads lie on; in a cut where none is found, its bottom track, unless its timeline has leads elsewhere. */
function leadTracks(laid: readonly Laid[], stacks: readonly Stack[]): (cut: Cut, track: string) => boolean {
  const tracks = new Set(stacks.map(({ lead }) => JSON.stringify([lead.cut.file, lead.event.track])));
  const withLead = new Set(stacks.map(({ lead }) => lead.timeline));
  const withLeadItself = new Set(stacks.map(({ lead }) => lead.cut));
  const tied = new Set(laid.map(({ cut }) => cut));
  return (cut, track) => {
    if (tracks.has(JSON.stringify([cut.file, track]))) return true;
    if (withLeadItself.has(cut) || (withLead.has(timelineOf(cut)) && tied.has(cut))) return false;
    return track === cut.events[0]?.track;
  };
}

interface Stack {
  readonly lead: Laid;
  /** Bottom track first. */
  readonly layers: readonly Laid[];
  readonly others: readonly Laid[];
}

function timelineOf({ file }: Cut): string {
  return /\.edl$/iu.test(file) ? 'edit lists' : file;
}

function stacksOf(laid: readonly Laid[], known: TieKnowledge): readonly Stack[] {
  const timelines = new Map([...groupBy(laid, ({ timeline }) => timeline)].map(([name, events]) => [name, neighbourFinder(events)]));
  return laid.filter(({ clip, event }) => clip.role === 'lead' && !event.disabled).map((lead) => {
    const near = timelines.get(lead.timeline)?.(lead.event.record) ?? [];
    const layers = near.filter((other) => other === lead || liesOver(lead, other, known));
    return { lead, layers, others: layers.filter((other) => other !== lead) };
  });
}

/** Lists of different files may be tracks of one cut or reels that all begin at one hour: then only passes of one set belong together. */
function liesOver(lead: Laid, other: Laid, { setOf }: TieKnowledge): boolean {
  if (other.cut === lead.cut) return other.event.track !== lead.event.track;
  const set = setOf(lead.clip.id);
  return set !== undefined && set === setOf(other.clip.id);
}

function shotOf({ lead, layers, others }: Stack, nameOf: ShotNamer): CutShot {
  const { event, cut } = lead;
  const cdl = event.cdl ?? others.find((other) => other.event.cdl !== undefined)?.event.cdl;
  const notes = [lead, ...others].flatMap((one) => [...one.event.markers.map(({ text }) => text), ...one.event.comments, ...transitionNotes(one)]);
  return {
    ...nameOf(lead, others),
    record: event.record,
    rate: cut.rate,
    recordDropFrame: cut.format.drop,
    lead: lead.clip.id,
    layers: layers.map((layer) => layLayer(layer, event.record)),
    ...(cdl === undefined ? {} : { cdl }),
    notes: [...new Set(notes)].filter((note) => note !== ''),
    from: placeText(event.file, event.place),
  };
}

function transitionNotes({ event: { track, transition, dissolve } }: Laid): readonly string[] {
  const tail = dissolve.tail > 0 ? [`${track}: a transition of ${dissolve.tail} frames after its tail`] : [];
  return transition === undefined ? tail : [`${track}: ${transition}`, ...tail];
}

/** A code that stands twice gets a number, so that every shot has a name of its own. */
function unique(shots: readonly CutShot[]): readonly CutShot[] {
  const seen = new Map<string, number>();
  return shots.map((shot) => {
    const count = (seen.get(shot.shot) ?? 0) + 1;
    seen.set(shot.shot, count);
    if (count === 1) return shot;
    const shotFrom = shot.shotFrom === ASSUMED ? ASSUMED : `${shot.shotFrom}; ${shot.shot} stands in the cut before, so a number was added`;
    return { ...shot, shot: `${shot.shot}_${count}`, shotFrom };
  });
}

function doubledCodes(shots: readonly CutShot[]): readonly Finding[] {
  return shots.filter(({ shotFrom }) => shotFrom.endsWith('a number was added')).map(({ shot, from, lead }) => ({
    code: 'unused-row',
    severity: 'note',
    subject: [lead],
    measured: { value: shot, unit: '' },
    allowed: { value: 'each shot code once', unit: '' },
    consequence: `${from}: its shot code stands in the cut before; it is called ${shot} here.`,
    remedy: 'Nothing, if the shot is cut in two on purpose; else give one of them its own code.',
    evidence: [from],
  }));
}

/** Passes that a cut uses with no lead beneath them: their set cannot be judged by it, and a shot code of their own is lost. */
function tellAlone(laid: readonly Laid[], stacks: readonly Stack[], shots: readonly CutShot[], { setOf, shots: rows }: TieKnowledge, codeOf: CodeReader): readonly ToldEvent[] {
  const used = new Set(stacks.flatMap(({ layers }) => layers));
  const codes = new Set(shots.map(({ shot }) => shot));
  const doubts = laid.filter((one) => !used.has(one) && !one.event.disabled).map(({ event, clip }) => ({ kind: 'alone' as const, event, clip }));
  return tellUntied(doubts, codeOf, rows)
    .map((one) => (codes.has(one.shot) ? { ...one, makesShot: false } : one))
    .filter(({ makesShot, doubt }) => makesShot || (doubt.kind === 'alone' && setOf(doubt.clip.id) !== undefined));
}

/** Two shots may lay the same two clips over each other with different offsets: then neither is sure, and that is told. */
function weighEvidence(evidence: readonly SyncEvidence[]): { readonly evidence: readonly SyncEvidence[]; readonly findings: readonly Finding[] } {
  const pairs = [...groupBy(evidence, ({ lead, clip }) => `${lead}\n${clip}`).values()];
  const torn = pairs.filter((pair) => new Set(pair.map(({ offset }) => offset)).size > 1);
  const doubtful = new Set(torn.flat());
  return {
    evidence: evidence.map((one) => (doubtful.has(one) ? { ...one, confidence: 0.5, words: `${one.words}; other shots lay them otherwise` } : one)),
    findings: torn.map((pair) => ({
      code: 'sources-disagree',
      severity: 'warn',
      subject: [...new Set(pair.flatMap(({ lead, clip }) => [lead, clip]))].toSorted(),
      measured: { value: [...new Set(pair.map(({ offset }) => offset))].join(', '), unit: 'frames' },
      allowed: { value: 'one offset', unit: '' },
      consequence: 'The cut lays these two over each other with different offsets, so one sync cannot serve all its shots; the first is gone by.',
      remedy: 'Take the offset of each shot from its own layers, or set the sync in the corrections file.',
      evidence: pair.map(({ offset, words }) => `${offset} frames: ${words}`),
    })),
  };
}
