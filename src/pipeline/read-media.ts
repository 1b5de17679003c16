import { ExiftoolTagReader } from '../adapters/exiftool/exiftool-tag-reader.ts';
import { FfprobeClipProbe } from '../adapters/ffmpeg/ffprobe-clip-probe.ts';
import { DiskStore } from '../adapters/filesystem/disk-store.ts';
import { FastXmlReader } from '../adapters/xml/fast-xml-reader.ts';
import type { Config } from '../config/resolved.ts';
import type { ReadDay } from '../core/material/day.ts';
import { textDigest } from '../formats/catalogue/digest.ts';
import { formatTagged } from '../formats/catalogue/tagged-json.ts';
import type { Catalogue, MediaListing, Progress } from '../ports.ts';
import { readDay } from '../steps/read/read-day.ts';
import type { ReadMemory } from '../steps/read/read-options.ts';
import { gemelVersion } from './assets.ts';
import type { FarmHands } from './farm/farm-hands.ts';
import { readOnFarm } from './farm/read-jobs.ts';
import { SettledStore } from './settled-store.ts';
import { systemClock } from './system-clock.ts';
import { locate } from './tools.ts';

/** What reading a day needs besides its configuration. */
export interface ReadTools {
  readonly progress: Progress;
  readonly signal: AbortSignal;
  /** What is missing is added here, not hidden. */
  readonly warnings: string[];
  readonly catalogue?: Catalogue | undefined;
  readonly farm?: FarmHands | undefined;
  readonly settled?: ((listing: MediaListing) => MediaListing) | undefined;
}

/** Reads media folders, or single files, with whatever outside programs there are. */
export async function readMedia(config: Config, { progress, signal, warnings, catalogue, farm, settled }: ReadTools): Promise<ReadDay> {
  const ffprobe = await locate('ffprobe');
  if (ffprobe.kind === 'missing') warnings.push('no ffprobe: clips whose own header does not say all are read in part (gemel doctor says how to get it)');
  await using tags = new ExiftoolTagReader();
  const disk = new DiskStore(config.media, [config.out]);
  const ports = {
    store: settled === undefined ? disk : new SettledStore(disk, settled),
    xml: new FastXmlReader(),
    clock: systemClock,
    progress,
    probe: ffprobe.kind === 'found' ? new FfprobeClipProbe(ffprobe.path) : undefined,
    tags,
    ...(catalogue === undefined ? {} : { memory: memoryOf(catalogue, farm, config, ffprobe.kind, signal) }),
  };
  return readDay(ports, config, signal);
}

function memoryOf(catalogue: Catalogue, farm: FarmHands | undefined, config: Config, ffprobe: 'found' | 'missing', signal: AbortSignal): ReadMemory {
  const memory = { catalogue, readers: readersName(config, ffprobe) };
  return farm === undefined ? memory : { ...memory, elsewhere: readOnFarm(farm, { headings: config.headings, settleSeconds: config.settleSeconds, ffprobe }, signal) };
}

/** Another version, other headings or another set of programs may read the same file differently. */
function readersName({ headings, mappings, settleSeconds }: Config, ffprobe: string): string {
  return textDigest(formatTagged([gemelVersion(), ffprobe, headings, mappings, settleSeconds]));
}
