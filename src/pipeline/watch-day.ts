import { join } from 'node:path';
import { DiskStore } from '../adapters/filesystem/disk-store.ts';
import { FolderHints } from '../adapters/filesystem/folder-hints.ts';
import { mediaRoots } from '../adapters/filesystem/media-roots.ts';
import { ResultFolder } from '../adapters/filesystem/result-folder.ts';
import { rotatingLog } from '../adapters/log/rotating-log.ts';
import type { Config } from '../config/resolved.ts';
import { UsageError } from '../core/material/errors.ts';
import type { Health } from '../formats/terminal/health.ts';
import { formatHealth } from '../formats/terminal/health.ts';
import type { MediaListing, Progress } from '../ports.ts';
import type { WatchNews } from '../steps/watch/watch-media.ts';
import { watchMedia } from '../steps/watch/watch-media.ts';
import { gemelVersion } from './assets.ts';
import type { Mounts } from './farm/mounts.ts';
import { serveBeside } from './farm/serve-beside.ts';
import { giveBackMemory } from './give-back-memory.ts';
import type { LoadedConfig } from './load-config.ts';
import { lockOutput } from './lock-output.ts';
import { ownFolder } from './open-catalogue.ts';
import { systemClock } from './system-clock.ts';
import { awayWords, besidesOf } from './watch-besides.ts';
import { findLastRun, noteRun } from './watch-last-run.ts';
import { newsLog, reasonOf } from './watch-log.ts';
import { Standing } from './watch-standing.ts';
import { openWorkshop } from './workshop.ts';

export interface WatchDayOptions {
  readonly database?: string | undefined;
  readonly mounts?: Mounts;
  /** Loads the pipeline anew, as it is written now. */
  readonly load: () => Promise<LoadedConfig>;
  readonly progress: Progress;
  /** Hears how things stand whenever that changes. */
  readonly onHealth: (health: Health) => void;
  /** Hears what is amiss although the watch goes on, such as a catalogue that was put aside. */
  readonly onWarning?: (warning: string) => void;
  /** Hears that the board was made. */
  readonly onBoard?: (boardPath: string) => void;
  /** Where to offer the board over HTTP; port 0 takes any that is free. */
  readonly serve?: { readonly host: string; readonly port: number };
  /** Hears once where the board is served, with the token when there is one. */
  readonly onServe?: (url: string) => void;
}

/** Watches the media folders of a pipeline until the signal fires, and keeps its results current. @throws {UsageError} when another gemel writes to the same output, the pipeline cannot be loaded, or the board cannot be served where it should. */
export async function watchDay(options: WatchDayOptions, signal: AbortSignal): Promise<void> {
  const first = await options.load();
  const { config } = first;
  const warnings: string[] = [];
  await ResultFolder.open(config.out);
  await using _lock = await lockOutput(config.out, 'gemel watch', warnings);
  const log = rotatingLog(join(ownFolder(config.out), 'log', 'watch.log'));
  await using workshop = await openWorkshop(config, { database: options.database, mounts: options.mounts ?? {} }, warnings);
  await using _serving = serveBeside(workshop, signal);
  await using hints = new FolderHints(config.media);
  let standingWords = 'starting';
  await using server =
    options.serve === undefined
      ? undefined
      : await (await import('../adapters/web/board-server.ts')).BoardServer.open({ ...options.serve, folder: config.out, standing: () => standingWords, onTrouble: (problem) => log.warn({ reason: reasonOf(problem) }, 'serving') });
  if (server !== undefined) options.onServe?.(server.url);
  const warn = (): void => {
    for (const warning of warnings.splice(0)) {
      log.warn(warning);
      options.onWarning?.(warning);
    }
  };
  warn();
  log.info({ version: gemelVersion(), media: config.media, out: config.out }, 'watch started');
  const kept = await findLastRun(workshop.catalogue, config.out);
  // As it was last written: what it names then is looked at from then on.
  let current = config;
  let roots: readonly string[] = kept?.roots ?? [];
  const standing = new Standing((health) => {
    standingWords = formatHealth(health);
    options.onHealth(health);
  }, kept?.sets);
  const note = newsLog(log);
  const ports = {
    store: new DiskStore(config.media, [config.out]),
    clock: systemClock,
    hints,
    away: async (listing: MediaListing) => awayWords(config, listing, roots),
    besides: async () => besidesOf(current, systemClock, signal),
    tell: (news: WatchNews) => {
      warn();
      standing.hear(news);
      note(news);
    },
    work: async (settled: (listing: MediaListing) => MediaListing) => {
      const loaded = await options.load();
      // Brought along when there is work: most starts find none, and then are quick.
      const { runDay } = await import('./run-day.ts');
      assertSamePlaces(loaded.config, config);
      current = loaded.config;
      const { day, made, warnings: doubts } = await runDay(loaded, options.progress, signal, { workshop, settled });
      roots = (await mediaRoots(config.media)).map(({ prefix }) => prefix).filter((prefix) => day.clips.some(({ file }) => file.startsWith(prefix)));
      standing.judged(day);
      for (const warning of doubts) log.warn(warning);
      log.info({ sets: standing.sets }, 'judged');
      options.onBoard?.(made.board);
    },
  };
  const noteMade = async (madeFrom: string): Promise<void> => {
    await noteRun(workshop.catalogue, config.out, { madeFrom, sets: standing.sets, roots });
    giveBackMemory();
  };
  const known = new Map([...((await workshop.catalogue?.places()) ?? [])].map(([file, { signature }]) => [file, signature]));
  await watchMedia(ports, { settleMs: config.settleSeconds * 1000, known, madeFrom: kept?.madeFrom, noteMade }, signal);
  log.info('watch stopped');
}

function assertSamePlaces(now: Config, before: Config): void {
  if (now.out === before.out && now.media.join('\0') === before.media.join('\0')) return;
  throw new UsageError(['the pipeline names other media or another output folder now; stop this watch and start it again']);
}
