import type { Source, Statement } from '../../core/material/statement.ts';
import { formatRate } from '../../core/timecode/rate.ts';
import { sortedBy, tidyNumber } from './order.ts';

/** A value in JSON: numbers rounded, rates as "num/den", "infinity" for a focus at infinity. */
export type ReportValue = string | number | boolean | null | { readonly [key: string]: ReportValue };

/** One place that states a value. `raw` is the text as it stood there. */
export interface ReportSource {
  readonly value: ReportValue;
  readonly raw: string;
  readonly from: string;
}

/** Everything that was stated of a clip, by field; nothing that was read is left out. */
export function sourcesOf(statements: readonly Statement[]): Readonly<Record<string, readonly ReportSource[]>> {
  const byField: Record<string, ReportSource[]> = {};
  for (const statement of sortedBy(statements, sortKey)) {
    const stated = (byField[statement.field] ??= []);
    stated.push({ value: statedValue(statement), raw: statement.raw, from: sourceWords(statement.source) });
  }
  return byField;
}

function sortKey({ field, source, raw }: Statement): string {
  return JSON.stringify([field, SOURCE_RANK[source.kind], source.file, source.place, raw]);
}

/** Only the order in which sources are listed; which one is gone by is decided where facts are chosen. */
const SOURCE_RANK: Readonly<Record<Source['kind'], number>> = { correction: 0, embedded: 1, sidecar: 2, report: 3, note: 4, name: 5 };

/** "reports/camera_A.csv, line 4, column T-Stop"; the file alone when the whole of it says so. */
export function sourceWords(source: Source): string {
  return source.place === '' ? source.file : `${source.file}, ${source.place}`;
}

function statedValue(statement: Statement): ReportValue {
  if (statement.field === 'fps' || statement.field === 'sensorFps' || statement.field === 'timecodeRate') return formatRate(statement.value);
  return reportValue(statement.value);
}

/** Any value of a field as JSON; keys keep the order they were made in. */
function reportValue(value: unknown): ReportValue {
  if (typeof value === 'number') return tidyNumber(value);
  if (typeof value === 'string' || typeof value === 'boolean') return value;
  if (typeof value !== 'object' || value === null) return null;
  return Object.fromEntries(sortedBy(Object.entries(value), ([key]) => key).map(([key, part]) => [key, reportValue(part)]));
}
