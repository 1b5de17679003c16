import type { Clip, ClipId, Role } from '../material/clip.ts';
import type { PairCorrections } from './pair-corrections.ts';

/**
 * The role each clip plays once confirmed pairs are heeded: who is confirmed as the lead of a pair is a lead, and the partner is
 * no lead but what the correction says, or what it was; a partner that nothing names is taken for a swapped pass.
 */
export function effectiveRoles(corrections: Pick<PairCorrections, 'confirmedPairs'>): (clip: Clip) => Role {
  const leads = new Set<ClipId>();
  const partners = new Map<ClipId, Role | undefined>();
  for (const { lead, clip, correction } of corrections.confirmedPairs) {
    leads.add(lead);
    if (!partners.has(clip)) partners.set(clip, correction.role);
  }
  return ({ id, role }) => {
    if (leads.has(id)) return 'lead';
    if (!partners.has(id)) return role;
    return partners.get(id) ?? (isUnnamedPartner(role) ? 'swapped' : role);
  };
}

/** Whether a confirmed partner has to be taken for a swapped pass, since a lead is nobody's partner and an unknown pass is nothing. */
export function isUnnamedPartner(role: Role): boolean {
  return role === 'lead' || role === 'unknown';
}
