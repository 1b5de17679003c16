import type { Config } from '../config/resolved.ts';
import type { Clip } from '../core/material/clip.ts';
import type { Progress } from '../ports.ts';
import { groupDay } from '../steps/group/group-day.ts';
import { readMedia } from './read-media.ts';

/** Clips with their facts chosen, without asking which set they belong to: what `gemel read` shows. */
export async function readClips(config: Config, progress: Progress, signal: AbortSignal): Promise<{ readonly clips: readonly Clip[]; readonly warnings: readonly string[] }> {
  const warnings: string[] = [];
  const read = await readMedia(config, { progress, signal, warnings });
  const { clips, findings } = groupDay(read, config);
  warnings.push(...findings.filter(({ severity }) => severity !== 'note').map(({ code, consequence, remedy }) => `${code}: ${consequence} ${remedy}`));
  return { clips, warnings };
}
