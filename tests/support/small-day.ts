import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { makeMovie } from './make-media.ts';

/** Two plate sets of the invented show "Saltmarsh Row", a split each, 96 small frames a pass at 24; and a pipeline for them. */
export async function makeSmallDay(folder: string, codec: readonly string[] = ['-c:v', 'mjpeg', '-q:v', '3']): Promise<string> {
  const roll = join(folder, 'media', 'A003_R7QK');
  mkdirSync(roll, { recursive: true });
  const passes = [
    ['A003C001', '27B', 1, 'lead', '14:22:00:00'], ['A003C002', '27B', 2, 'swapped', '14:30:00:00'], ['A003C003', '27B', 3, 'clean', '14:35:00:00'],
    ['A003C004', '31C', 1, 'lead', '15:02:00:00'], ['A003C005', '31C', 2, 'swapped', '15:10:00:00'], ['A003C006', '31C', 3, 'clean', '15:15:00:00'],
  ] as const;
  const rows = passes.map(([clip, slate, take, pass]) => `${clip}_261125_R7QK.mov,${slate},${take},${pass},yes`);
  writeFileSync(join(folder, 'media', 'script-log.csv'), ['File,Slate,Take,Pass,Circled', ...rows, ''].join('\n'));
  for (const [clip, , , , timecode] of passes) await makeMovie(join(roll, `${clip}_261125_R7QK.mov`), { frames: 96, rate: '24', timecode, size: '64x36', codec });
  const pipeline = join(folder, 'show.yaml');
  writeFileSync(pipeline, 'show: Saltmarsh Row\nmedia: [media]\nout: out\nbase_rate: 24\nvendor: Fenlight Post\nsettle_seconds: 0\nshot_code_patterns: ["@@@_###_####"]\n');
  return pipeline;
}

/** One event of an invented cut: shot code, clip, source and record in and out. */
export type InventedEvent = readonly [shot: string, clip: string, sourceIn: string, sourceOut: string, recordIn: string, recordOut: string];

/** A CMX 3600 list of events on one track. */
export function writeCut(path: string, events: readonly InventedEvent[]): void {
  const lines = events.flatMap(([shot, clip, ...times], index) => [`${String(index + 1).padStart(3, '0')}  ${clip.slice(0, 8)} V     C        ${times.join(' ')}`, `* FROM CLIP NAME: ${clip}`, `* ${shot}`]);
  writeFileSync(path, ['TITLE: SALTMARSH ROW', '', 'FCM: NON-DROP FRAME', ...lines, ''].join('\r\n'));
}
