import type { Clip, ClipId, Role } from '../material/clip.ts';
import type { Method } from '../material/method.ts';
import type { Sync } from '../material/plate-set.ts';
import { rateName, sameRate } from '../timecode/rate.ts';
import type { PairCorrections } from './pair-corrections.ts';
import { correctionText } from './pair-corrections.ts';
import { compareText } from './sorted.ts';
import { agreeOnSync } from './sync-agreement.ts';
import type { SyncMark } from './sync-marks.ts';
import { syncByMarks } from './sync-marks.ts';
import { syncByTimecode } from './sync-timecode.ts';

/** What another step found out about two passes: the cut lays them over each other, their sound or their camera move agrees. */
export interface SyncEvidence {
  readonly kind: 'cut' | 'guide-audio' | 'camera-motion';
  readonly lead: ClipId;
  readonly clip: ClipId;
  /** Whole frames: frame of the clip = frame of the lead + offset. */
  readonly offset: number;
  /** 0..1. */
  readonly confidence: number;
  readonly words: string;
}

/** What may tell how the passes of a set lie over each other. */
export interface SyncKnowledge {
  readonly method: Method;
  readonly corrections: Pick<PairCorrections, 'sync'>;
  readonly evidenceFor: (lead: ClipId, clip: ClipId) => readonly SyncEvidence[];
  readonly marksOf: (clip: Clip) => ReadonlyMap<string, SyncMark>;
}

/** Two passes to be laid over each other. */
export interface PassPair {
  readonly lead: Clip;
  readonly clip: Clip;
  readonly role: Role;
}

type Strategy = (pair: PassPair, known: SyncKnowledge) => Sync | undefined;

/** In order of trust; a correction comes before all of them. A new kind of evidence takes its place in this list. */
const STRATEGIES: readonly Strategy[] = [
  reported('cut'),
  ({ lead, clip }, { method }) => syncByTimecode(lead, clip, method),
  ({ lead, clip }, { marksOf }) => syncByMarks(marksOf(lead), marksOf(clip)),
  reported('guide-audio'),
  reported('camera-motion'),
];

/** How sure a guess is: head to head, as crews mostly start alike. Common practice, no source. */
const GUESS = 0.2;

/** Which frame of the clip lies under which frame of the lead, by the best evidence there is; the other kinds make it surer or less sure. */
export function syncPasses(pair: PassPair, known: SyncKnowledge): Sync {
  const correction = known.corrections.sync(pair.lead.id, pair.clip.id);
  if (correction !== undefined) {
    return { method: 'correction', offset: correction.offset, confidence: 1, words: `set by hand ${correctionText(correction)}` };
  }
  if (!ratesDiffer(pair)) {
    const sync = agreeOnSync(STRATEGIES.flatMap((strategy) => strategy(pair, known) ?? []));
    if (sync !== undefined) return sync;
  }
  return assumed(pair, known.method);
}

function assumed(pair: PassPair, { movingCamera }: Method): Sync {
  const headToHead = (confidence: number, words: string): Sync => ({ method: 'assumed', offset: 0, confidence, words });
  if (pair.role === 'reference') return headToHead(1, 'a reference is looked at, not laid under the lead: it needs no sync');
  if (pair.role === 'clean' && !movingCamera) return headToHead(1, 'the camera is locked off: any frame of the clean plate serves');
  if (!ratesDiffer(pair)) return headToHead(GUESS, 'nothing tells: assumed head to head');
  const { lead, clip } = pair;
  const name = ({ rate }: Clip): string => (rate === undefined ? 'unknown' : rateName(rate));
  return headToHead(0, `this pass runs at ${name(clip)} fps and the lead at ${name(lead)}: no offset in frames can lay one under the other`);
}

function ratesDiffer({ lead, clip }: PassPair): boolean {
  return lead.rate !== undefined && clip.rate !== undefined && !sameRate(lead.rate, clip.rate);
}

/** What a later step reports; the surest of several. */
function reported(kind: SyncEvidence['kind']): Strategy {
  return ({ lead, clip }, { evidenceFor }) => {
    const found = evidenceFor(lead.id, clip.id).filter((evidence) => evidence.kind === kind);
    const best = found.toSorted((a, b) => b.confidence - a.confidence || a.offset - b.offset || compareText(a.words, b.words))[0];
    return best === undefined ? undefined : { method: kind, offset: best.offset, confidence: best.confidence, words: best.words };
  };
}
