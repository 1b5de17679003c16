import type { Finding, Quantity, Severity } from '../material/finding.ts';
import type { Tolerance } from '../material/tolerance.ts';

/** Worst first. */
export const SEVERITIES = ['stop', 'warn', 'note'] as const satisfies readonly Severity[];

/** Whether `a` lies above `b` by more than binary fractions of decimal figures can: 180 − 172.8 is not above 7.2. */
export function isAbove(a: number, b: number): boolean {
  return a > b + 1e-9 * Math.max(1, Math.abs(b));
}

/** What a difference amounts to: nothing up to `warn`, `warn` above it, `stop` above `stop`. */
export function severityBeyond(difference: number, tolerance: Tolerance): Severity | undefined {
  if (isAbove(difference, tolerance.stop)) return 'stop';
  return isAbove(difference, tolerance.warn) ? 'warn' : undefined;
}

/**
 * Printed stops are nominal and an iris is set to a tenth: a difference this close below `stop` counts as reaching it, so that one full stop by the marks is
 * one stop whatever a shutter of 1/50 for 1/48 adds. Common practice, no source.
 */
const SAME_STOP = 0.05;

/** What a difference in stops amounts to: as `severityBeyond`, but one that reaches `stop` as marks are printed is a `stop` already. */
export function severityOfStops(stops: number, tolerance: Tolerance): Severity | undefined {
  if (tolerance.stop > tolerance.warn && !isAbove(tolerance.stop - SAME_STOP, stops) && isAbove(stops, tolerance.warn)) return 'stop';
  return severityBeyond(stops, tolerance);
}

/** Negative, zero or positive as `a` is worse than, as bad as, or milder than `b`. */
export function compareSeverity(a: Severity, b: Severity): number {
  return SEVERITIES.indexOf(a) - SEVERITIES.indexOf(b);
}

/** The milder of a severity and the worst it may be. */
export function atMost(severity: Severity, worst: Severity): Severity {
  return compareSeverity(severity, worst) < 0 ? worst : severity;
}

/** The same finding at most as bad as `worst`, saying why it is milder than it would be. */
export function lowered(finding: Finding, worst: Severity, why: string): Finding {
  if (compareSeverity(finding.severity, worst) >= 0) return finding;
  return { ...finding, severity: worst, consequence: `${finding.consequence} Only a ${worst === 'warn' ? 'warning' : 'note'}, because ${why}.` };
}

/** Findings in the order people read them: worst first, then code, then subject; each once. */
export function sortFindings(findings: readonly Finding[]): readonly Finding[] {
  const once = new Map<string, Finding>();
  for (const finding of findings) {
    const key = identity(finding);
    const known = once.get(key);
    if (known === undefined || compareSeverity(finding.severity, known.severity) < 0) once.set(key, finding);
  }
  const keyed = [...once].map(([key, finding]) => ({ key, finding }));
  keyed.sort((a, b) => compareSeverity(a.finding.severity, b.finding.severity) || compareText(a.key, b.key));
  return keyed.map(({ finding }) => finding);
}

/** Order by UTF-16 code units: the same on every machine. */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** What makes two findings one: the words may differ (a lowered finding says why), the fault may not. */
function identity({ code, subject, measured, allowed, evidence }: Finding): string {
  return [code, ...subject, quantityText(measured), quantityText(allowed), ...evidence].join('\u0000');
}

function quantityText(quantity: Quantity | undefined): string {
  return quantity === undefined ? '' : `${quantity.value} ${quantity.unit}`;
}
