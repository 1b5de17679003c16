import type { Finding } from '../material/finding.ts';
import type { Tolerance } from '../material/tolerance.ts';
import type { ChangingValue } from './along-take.ts';
import { comparePasses } from './along-take.ts';
import { figure } from './evidence.ts';
import type { MatchedPasses } from './passes.ts';
import { raiseDifference } from './raise.ts';
import type { DifferenceCode } from './relevance.ts';
import { severityBeyond } from './severity.ts';

/** A number that lead and pass should share, and how it is said. */
export interface SharedNumber extends ChangingValue {
  readonly code: DifferenceCode;
  /** Of what `apart` gives, and of the tolerance. */
  readonly unit: string;
  /** Decimals of the measured figure. */
  readonly decimals: number;
  readonly text: (value: number) => string;
  /** "1 stop darker"; `difference` is the rounded figure. */
  readonly by?: (lead: number, pass: number, difference: number) => string;
}

/** The finding when the number differs by more than its tolerance; none when it is not on record for both. */
export function checkNumber(passes: MatchedPasses, number: SharedNumber, tolerance: Tolerance): readonly Finding[] {
  const apart = comparePasses(passes, number);
  if (apart === undefined) return [];
  const severity = severityBeyond(apart.difference, tolerance);
  if (severity === undefined) return [];
  const difference = figure(apart.difference, number.decimals);
  return raiseDifference(passes, number.code, {
    severity,
    measured: { value: difference, unit: number.unit },
    allowed: { value: tolerance.warn, unit: number.unit },
    what: number.what,
    leadText: number.text(apart.lead),
    passText: number.text(apart.pass),
    by: number.by?.(apart.lead, apart.pass, difference) ?? '',
    where: apart.where,
    evidence: apart.evidence(),
  });
}
