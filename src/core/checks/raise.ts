import type { ClipId } from '../material/clip.ts';
import type { Finding, Quantity, Severity } from '../material/finding.ts';
import { wordingOf } from './consequence.ts';
import type { Fault } from './faults.ts';
import type { MatchedPasses } from './passes.ts';
import type { DifferenceCode } from './relevance.ts';
import { worstFor } from './relevance.ts';
import { atMost, compareText } from './severity.ts';

/** The finding that says a fault to people. */
export function raise(fault: Fault): Finding {
  return {
    code: fault.code,
    severity: fault.severity,
    subject: idsOf(fault.subject),
    measured: fault.measured,
    allowed: fault.allowed,
    ...wordingOf(fault),
    evidence: fault.evidence,
  };
}

/** A difference as a family of checks finds it, before the role of the pass is weighed. */
export interface FoundDifference {
  readonly severity: Severity;
  readonly measured: Quantity;
  readonly allowed: Quantity;
  /** "focal length". */
  readonly what: string;
  readonly leadText: string;
  readonly passText: string;
  readonly by?: string;
  readonly where?: string;
  readonly cost?: string;
  readonly worst?: string;
  readonly evidence: readonly string[];
}

/** The finding for a difference between lead and pass; none when it does not matter for a pass of that role. */
export function raiseDifference(passes: MatchedPasses, code: DifferenceCode, found: FoundDifference): readonly Finding[] {
  const worst = worstFor(passes.role, code);
  if (worst === undefined) return [];
  const subject = [passes.lead, passes.pass];
  return [raise({ by: '', where: '', cost: '', ...found, code, passes, subject, severity: atMost(found.severity, worst) })];
}

function idsOf(clips: Fault['subject']): readonly ClipId[] {
  return [...new Set(clips.map(({ id }) => id))].sort(compareText);
}
