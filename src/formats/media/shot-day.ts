import type { FoundValue } from './media-facts.ts';
import { found } from './media-facts.ts';

/**
 * The day a written date and time names, as a `date` value `2026-11-25`; none when it names no real day. Times in UTC name none: near
 * midnight their day is not the day on set.
 */
export function shotDay(text: string, place: string): FoundValue[] {
  const [, year, month = '', day = '', rest = ''] = /^((?:19|20)\d{2})[-:/]?(\d{2})[-:/]?(\d{2})(?!\d)(.*)$/u.exec(text.trim()) ?? [];
  if (year === undefined || /(?:Z|UTC|[+]00:?00)$/u.test(rest)) return [];
  if (Number(month) < 1 || Number(month) > 12 || Number(day) < 1 || Number(day) > 31) return [];
  return [found('date', `${year}-${month}-${day}`, text, place)];
}
