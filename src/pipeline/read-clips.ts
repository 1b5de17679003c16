import type { Config } from '../config/resolved.ts';
import type { ClipOptics } from '../core/checks/clip-optics.ts';
import { clipOptics, opticsSettings } from '../core/checks/clip-optics.ts';
import type { Clip } from '../core/material/clip.ts';
import type { Progress } from '../ports.ts';
import { groupDay } from '../steps/group/group-day.ts';
import { readMedia } from './read-media.ts';

/** Clips, what their values come to, and what could not be read. */
export interface ReadClips {
  readonly clips: readonly Clip[];
  readonly optics: (clip: Clip) => ClipOptics;
  readonly warnings: readonly string[];
}

/** Clips with their facts chosen, without asking which set they belong to: what `gemel read` shows. `circleMm`: the disc that counts as a point, the customary one when absent. */
export async function readClips(config: Config, progress: Progress, signal: AbortSignal, circleMm?: number): Promise<ReadClips> {
  const warnings: string[] = [];
  const read = await readMedia(config, { progress, signal, warnings });
  const { clips, findings } = groupDay(read, config);
  warnings.push(...findings.filter(({ severity }) => severity !== 'note').map(({ code, consequence, remedy }) => `${code}: ${consequence} ${remedy}`));
  const settings = { ...opticsSettings(config), ...(circleMm === undefined ? {} : { circleMm }) };
  return { clips, optics: (clip) => clipOptics(clip, settings), warnings };
}
