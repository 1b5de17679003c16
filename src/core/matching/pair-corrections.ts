import type { Clip, ClipId } from '../material/clip.ts';
import type { Correction } from '../material/correction.ts';
import { correctionNamesClip } from '../material/correction.ts';
import { groupBy } from './sorted.ts';

/** What a person decided about two clips together. */
export type PairCorrection = Extract<Correction, { readonly kind: 'confirm' | 'forbid' | 'sync' }>;
type OfKind<K extends PairCorrection['kind']> = Extract<PairCorrection, { readonly kind: K }>;

export interface PairCorrections {
  /** Every confirmed pair, in the order of the file. */
  readonly confirmedPairs: readonly { readonly lead: ClipId; readonly clip: ClipId; readonly correction: OfKind<'confirm'> }[];
  readonly confirmed: (lead: ClipId, clip: ClipId) => OfKind<'confirm'> | undefined;
  /** Undefined too where the same pair is confirmed: a confirmation beats all. */
  readonly forbidden: (lead: ClipId, clip: ClipId) => OfKind<'forbid'> | undefined;
  readonly sync: (lead: ClipId, clip: ClipId) => OfKind<'sync'> | undefined;
}

/**
 * The corrections that concern pairs, by the clips they name. A name that two clips share is used for neither (grouping has told
 * so); where several say the same of one pair, the first counts.
 */
export function pairCorrections(corrections: readonly Correction[], clips: readonly Clip[]): PairCorrections {
  const pairs = corrections.filter(isAboutPair);
  const byName = groupBy(pairs.length === 0 ? [] : clips, ({ file }) => baseName(file));
  const named = (name: string): ClipId | undefined => {
    const found = (byName.get(baseName(name)) ?? []).filter(({ file }) => correctionNamesClip(name, file));
    return (found.find(({ file }) => file === name) ?? (found.length === 1 ? found[0] : undefined))?.id;
  };
  const confirmedPairs: { lead: ClipId; clip: ClipId; correction: OfKind<'confirm'> }[] = [];
  const found = { confirm: new Map<string, OfKind<'confirm'>>(), forbid: new Map<string, OfKind<'forbid'>>(), sync: new Map<string, OfKind<'sync'>>() };
  for (const correction of pairs) {
    const lead = named(correction.lead);
    const clip = named(correction.clip);
    if (lead === undefined || clip === undefined) continue;
    if (correction.kind === 'confirm') confirmedPairs.push({ lead, clip, correction });
    note(found, correction, pairKey(lead, clip));
  }
  if (pairs.length === 0) return NONE;
  return {
    confirmedPairs,
    confirmed: (lead, clip) => found.confirm.get(pairKey(lead, clip)),
    forbidden: (lead, clip) => (found.confirm.has(pairKey(lead, clip)) ? undefined : found.forbid.get(pairKey(lead, clip))),
    sync: (lead, clip) => found.sync.get(pairKey(lead, clip)),
  };
}

const NONE: PairCorrections = { confirmedPairs: [], confirmed: () => undefined, forbidden: () => undefined, sync: () => undefined };

/** A key for two clips in this order; no file name holds a NUL. */
export function pairKey(lead: ClipId, clip: ClipId): string {
  return `${lead}\0${clip}`;
}

/** "(corrections.yaml, line 12: R. Amsel, board misread)", for words. */
export function correctionText({ from, who, why }: Correction): string {
  return `(${from}: ${who}, ${why})`;
}

interface FoundCorrections {
  readonly confirm: Map<string, OfKind<'confirm'>>;
  readonly forbid: Map<string, OfKind<'forbid'>>;
  readonly sync: Map<string, OfKind<'sync'>>;
}

function note(found: FoundCorrections, correction: PairCorrection, key: string): void {
  if (found[correction.kind].has(key)) return;
  if (correction.kind === 'confirm') found.confirm.set(key, correction);
  else if (correction.kind === 'forbid') found.forbid.set(key, correction);
  else found.sync.set(key, correction);
}

function isAboutPair(correction: Correction): correction is PairCorrection {
  return correction.kind === 'confirm' || correction.kind === 'forbid' || correction.kind === 'sync';
}

function baseName(file: string): string {
  return file.slice(file.lastIndexOf('/') + 1);
}
