import type { Clip } from '../material/clip.ts';
import type { Finding, Severity } from '../material/finding.ts';
import type { Verdict } from './judged.ts';
import { clipName, listed } from './passes.ts';

/** Any `stop` is a no; any `warn` asks a person to look (a pass that only a guess ties is one); else the set may be struck. */
export function verdictOf(findings: readonly Finding[]): Verdict {
  if (findings.some(({ severity }) => severity === 'stop')) return 'no';
  return findings.some(({ severity }) => severity === 'warn') ? 'look' : 'yes';
}

/** What a reason is made of besides the findings. */
export interface Judged {
  readonly method: string;
  readonly leads: readonly Clip[];
  /** Values that could not be compared because they are not on record. */
  readonly notOnRecord: readonly string[];
  /** What the pictures say, as the end of a sentence; "" when they were not looked at. */
  readonly pictures?: string;
}

/** One sentence: why the verdict is what it is. Findings are sorted, worst first. */
export function reasonFor(findings: readonly Finding[], { method, leads, notOnRecord, pictures = '' }: Judged): string {
  const verdict = verdictOf(findings);
  if (verdict === 'no') return `Do not strike: ${faults(findings, 'stop')}.`;
  if (verdict === 'look') return `A person must look before the set is struck: ${faults(findings, 'warn')}.`;
  const names = listed(leads.map(clipName));
  const unknown = notOnRecord.length === 0 ? '' : ` (not on record for all of them: ${listed(notOnRecord)})`;
  return `${names} ${leads.length === 1 ? 'has' : 'have'} every pass that ${method} needs, long enough and alike in all that is on record${unknown}${pictures === '' ? '' : `; ${pictures}`}.`;
}

/** How many kinds of fault a sentence bears. */
const NAMED = 4;

/** The kinds of fault of one severity; a code is its own plain words. */
function faults(findings: readonly Finding[], severity: Severity): string {
  const codes = findings.filter((finding) => finding.severity === severity).map(({ code }) => code);
  const kinds = [...new Set(codes)].map((code) => {
    const count = codes.filter((one) => one === code).length;
    return `${code.replaceAll('-', ' ')}${count > 1 ? ` (${count} times)` : ''}`;
  });
  const more = kinds.length - NAMED;
  return listed(more > 0 ? [...kinds.slice(0, NAMED), `${more} more`] : kinds);
}
