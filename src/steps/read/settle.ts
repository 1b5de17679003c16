import type { Clock, FoundFile } from '../../ports.ts';
import { mapBounded } from './bounded.ts';
import type { ClipReading } from './clip-reading.ts';
import type { ReadOptions, ReadPorts } from './read-options.ts';
import { growingClip } from './unusable.ts';

/** Long enough for a copy that goes on to write something more; a card reader that stalls longer is told by the time of change. */
const WAIT_MS = 1000;
const LOOKS_AT_ONCE = 8;

/**
 * Tells clips that are still growing. A file that changed while the day was read is; so is one that nothing proves whole and
 * that changes again within a second, or that changed within the settling time and does not even begin to tell its end.
 * A clip that is cut off and lies still stays cut off.
 */
export async function tellGrowing(readings: readonly ClipReading[], ports: ReadPorts, options: ReadOptions, signal: AbortSignal): Promise<readonly ClipReading[]> {
  const { settleSeconds } = options;
  const recent = readings.filter(({ changed, doubtful }) => !changed && doubtful.some((found) => isRecent(found, ports.clock, options)));
  if (recent.length > 0) await ports.clock.pause(WAIT_MS, signal);
  const moved = new Set<ClipReading>();
  await mapBounded(recent, LOOKS_AT_ONCE, async (reading) => {
    for (const found of reading.doubtful) if (await hasMoved(found, ports, signal)) moved.add(reading);
    return reading;
  });
  return readings.map((reading) => {
    if (reading.changed || moved.has(reading)) return { ...reading, clip: growingClip(reading.clip, 'it changed while it was being read') };
    if (!recent.includes(reading) || reading.clip.complete !== null) return reading;
    const why = `it was changed less than ${settleSeconds} s before it was read, and nothing in it tells whether it is whole`;
    return { ...reading, clip: growingClip(reading.clip, why) };
  });
}

/** Whether a file changed within the settling time. */
export function isRecent({ modifiedMs }: FoundFile, clock: Clock, { settleSeconds }: Pick<ReadOptions, 'settleSeconds'>): boolean {
  return settleSeconds > 0 && clock.nowMs() - modifiedMs < settleSeconds * 1000;
}

async function hasMoved({ path, sizeBytes, modifiedMs }: FoundFile, { store }: ReadPorts, signal: AbortSignal): Promise<boolean> {
  try {
    const file = await store.open(path, signal);
    try {
      return file.size !== sizeBytes || file.modifiedMs !== modifiedMs;
    } finally {
      await file.close();
    }
  } catch {
    signal.throwIfAborted();
    // Gone or refused: nothing that a look can settle.
    return false;
  }
}
