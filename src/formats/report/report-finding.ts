import type { Finding, FindingCode, Quantity, Severity } from '../../core/material/finding.ts';
import { compareText, tidyNumber } from './order.ts';

/** A quantity with its number rounded; "infinity" where there is none. */
export interface ReportQuantity {
  readonly value: number | string;
  readonly unit: string;
}

/** A finding as the report holds it; `measured` and `allowed` are null where the finding has none. */
export interface ReportFinding {
  readonly code: FindingCode;
  readonly severity: Severity;
  readonly subject: readonly string[];
  readonly measured: ReportQuantity | null;
  readonly allowed: ReportQuantity | null;
  readonly consequence: string;
  readonly remedy: string;
  readonly evidence: readonly string[];
}

const SEVERITY_RANK: Readonly<Record<Severity, number>> = { stop: 0, warn: 1, note: 2 };

/** Findings worst first, then by code, subject and words, so that no two orders are possible. */
export function sortFindings(findings: readonly Finding[]): readonly Finding[] {
  const key = (finding: Finding): string =>
    JSON.stringify([finding.code, finding.subject.toSorted(), finding.consequence, finding.evidence, finding.measured, finding.allowed, finding.remedy]);
  return findings.toSorted((a, b) => SEVERITY_RANK[a.severity] - SEVERITY_RANK[b.severity] || compareText(key(a), key(b)));
}

/** Findings as the report holds them, sorted. */
export function findingsOf(findings: readonly Finding[]): readonly ReportFinding[] {
  return sortFindings(findings).map((finding) => ({
    code: finding.code,
    severity: finding.severity,
    subject: finding.subject.toSorted(),
    measured: quantityOf(finding.measured),
    allowed: quantityOf(finding.allowed),
    consequence: finding.consequence,
    remedy: finding.remedy,
    evidence: finding.evidence,
  }));
}

function quantityOf(quantity: Quantity | undefined): ReportQuantity | null {
  if (quantity === undefined) return null;
  const value = typeof quantity.value === 'number' ? (tidyNumber(quantity.value) ?? 'not a number') : quantity.value;
  return { value, unit: quantity.unit };
}
