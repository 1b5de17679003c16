import { ExiftoolTagReader } from '../adapters/exiftool/exiftool-tag-reader.ts';
import { FfprobeClipProbe } from '../adapters/ffmpeg/ffprobe-clip-probe.ts';
import { DiskStore } from '../adapters/filesystem/disk-store.ts';
import { FastXmlReader } from '../adapters/xml/fast-xml-reader.ts';
import type { Config } from '../config/resolved.ts';
import type { ReadDay } from '../core/material/day.ts';
import type { Progress } from '../ports.ts';
import { readDay } from '../steps/read/read-day.ts';
import { systemClock } from './system-clock.ts';
import { locate } from './tools.ts';

/** Reads media folders, or single files, with whatever outside programs there are; what is missing is added to `warnings`, not hidden. */
export async function readMedia(config: Config, progress: Progress, signal: AbortSignal, warnings: string[]): Promise<ReadDay> {
  const ffprobe = await locate('ffprobe');
  if (ffprobe.kind === 'missing') warnings.push('no ffprobe: clips whose own header does not say all are read in part (gemel doctor says how to get it)');
  await using tags = new ExiftoolTagReader();
  const ports = {
    store: new DiskStore(config.media, [config.out]),
    xml: new FastXmlReader(),
    clock: systemClock,
    progress,
    probe: ffprobe.kind === 'found' ? new FfprobeClipProbe(ffprobe.path) : undefined,
    tags,
  };
  return readDay(ports, config, signal);
}
