import { sameRate } from '../../timecode/rate.ts';
import type { SyncEvidence } from '../sync.ts';
import type { TiedEvent } from './lay-layer.ts';
import { frameAt, placeText, stepOf } from './lay-layer.ts';

/** How sure the cut is: an editor laid the passes over each other and looked. */
const SURE = 0.95;

/**
 * Which frame of a pass lies under which frame of the lead, where a cut lays one over the other. Undefined when they run at
 * different speeds or rates, or are frozen: then one offset cannot say it.
 */
export function cutSync(lead: TiedEvent, other: TiedEvent, shot: string): SyncEvidence | undefined {
  if (other.clip === lead.clip) return undefined;
  if (lead.clip.rate === undefined || other.clip.rate === undefined || !sameRate(lead.clip.rate, other.clip.rate)) return undefined;
  const step = stepOf(lead);
  if (step === 0 || step !== stepOf(other)) return undefined;
  const at = Math.max(lead.event.record.start, other.event.record.start);
  const muted = other.event.disabled ? ', muted' : '';
  return {
    kind: 'cut',
    lead: lead.clip.id,
    clip: other.clip.id,
    offset: frameAt(other, at) - frameAt(lead, at),
    confidence: SURE,
    words: `the cut lays it over the lead in ${shot} (${placeText(other.event.file, other.event.place)}${muted})`,
  };
}
