import type { Chosen, Clip } from '../material/clip.ts';
import type { Finding, Severity } from '../material/finding.ts';
import { readAt } from './evidence.ts';
import type { MatchedPasses } from './passes.ts';
import { raiseDifference } from './raise.ts';
import type { DifferenceCode } from './relevance.ts';

/** A name that lead and pass should share. */
export interface SharedText {
  readonly code: DifferenceCode;
  readonly what: string;
  readonly severity: Severity;
  readonly of: (clip: Clip) => Chosen<string> | undefined;
  /** Whether two ways of writing mean the same. */
  readonly same: (a: string, b: string) => boolean;
}

/** The finding when the name differs; none when it is not on record for both, or was written by two different hands. */
export function checkText(passes: MatchedPasses, { code, what, severity, of, same }: SharedText): readonly Finding[] {
  const a = of(passes.lead);
  const b = of(passes.pass);
  if (a === undefined || b === undefined || a.source.kind !== b.source.kind || same(a.value, b.value)) return [];
  return raiseDifference(passes, code, {
    severity,
    measured: { value: b.value, unit: '' },
    allowed: { value: a.value, unit: '' },
    what,
    leadText: a.value,
    passText: b.value,
    evidence: [readAt(passes.lead, what, a), readAt(passes.pass, what, b)],
  });
}
