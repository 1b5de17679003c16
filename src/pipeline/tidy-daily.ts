import type { Catalogue } from '../ports.ts';
import { systemClock } from './system-clock.ts';

/** Longer than a shoot lasts: a card that comes back within it is known again. */
const KEEP_DAYS = 90;
const DAY_MS = 86_400_000;

/** The day each open catalogue was last tidied. */
const tidied = new WeakMap<Catalogue, number>();

/** Has a catalogue forget what nobody used for a season; once a day, and for a catalogue that was just opened. */
export async function tidyDaily(catalogue: Catalogue | undefined): Promise<void> {
  const day = Math.floor(systemClock.nowMs() / DAY_MS);
  if (catalogue === undefined || tidied.get(catalogue) === day) return;
  tidied.set(catalogue, day);
  // It costs room, not results, when it fails, as when two tidy at once.
  await catalogue.tidy(day, KEEP_DAYS).catch(() => {});
}
