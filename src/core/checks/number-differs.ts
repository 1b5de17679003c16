import type { Finding } from '../material/finding.ts';
import type { Tolerance } from '../material/tolerance.ts';
import type { Apart, ChangingValue } from './along-take.ts';
import { comparePasses } from './along-take.ts';
import { asWritten } from './as-written.ts';
import type { Cost, Decision } from './cost.ts';
import { figure } from './evidence.ts';
import type { MatchedPasses } from './passes.ts';
import type { OpticsOfPair, PairOptics } from './pair-optics.ts';
import { raiseDifference } from './raise.ts';
import type { DifferenceCode } from './relevance.ts';
import { worstFor } from './relevance.ts';
import { severityBeyond, severityOfStops } from './severity.ts';

/** A number that lead and pass should share, and how it is said. */
export interface SharedNumber extends ChangingValue {
  readonly code: DifferenceCode;
  /** Of what `apart` gives, and of the tolerance. */
  readonly unit: string;
  /** Decimals of the measured figure. */
  readonly decimals: number;
  readonly text: (value: number) => string;
  /** How the text gives way to what the crew wrote; `asWritten` unless said otherwise. */
  readonly written?: typeof asWritten;
  /** "1 stop darker"; `difference` is the rounded figure. */
  /** What it costs in the picture; what that decides counts for more than the tolerance in the number's own unit. */
  readonly cost?: (optics: PairOptics, apart: Apart, byTolerance: Decision) => Cost;
  /** Whether a difference within the tolerance may cost something too: the tolerance then only stands in where the cost is not known. */
  readonly everyStepCounts?: boolean;
  readonly by?: (lead: number, pass: number, difference: number) => string;
  /** Whether it is a stop of light read off marks: see `severityOfStops`. */
  readonly nominalStops?: boolean;
}

/** The finding when the number differs by more than may be; none when it is not on record for both. */
export function checkNumber(passes: MatchedPasses, number: SharedNumber, tolerance: Tolerance, optics: OpticsOfPair): readonly Finding[] {
  const apart = comparePasses(passes, number);
  if (apart === undefined || worstFor(passes.role, number.code) === undefined) return [];
  const within = (number.nominalStops === true ? severityOfStops : severityBeyond)(apart.difference, tolerance);
  if (apart.difference === 0 || (within === undefined && number.everyStepCounts !== true)) return [];
  const difference = figure(apart.difference, number.decimals);
  const byTolerance: Decision = { severity: within, measured: { value: difference, unit: number.unit }, allowed: { value: tolerance.warn, unit: number.unit } };
  const cost = number.cost?.(optics(), apart, byTolerance) ?? NO_COST;
  const { severity, measured, allowed } = cost.decided ?? byTolerance;
  if (severity === undefined) return [];
  const written = number.written ?? asWritten;
  return raiseDifference(passes, number.code, {
    severity,
    measured,
    allowed,
    cost: cost.words,
    ...(cost.worst === undefined ? {} : { worst: cost.worst }),
    what: number.what,
    leadText: written(number.text(apart.lead), apart.written?.lead),
    passText: written(number.text(apart.pass), apart.written?.pass),
    by: number.by?.(apart.lead, apart.pass, difference) ?? '',
    where: apart.where,
    evidence: [...apart.evidence(), ...cost.evidence],
  });
}

const NO_COST: Cost = { words: '', evidence: [] };
