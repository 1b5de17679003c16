import { stat } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { DiskStore } from '../adapters/filesystem/disk-store.ts';
import { FolderHints } from '../adapters/filesystem/folder-hints.ts';
import { mediaRoots } from '../adapters/filesystem/media-roots.ts';
import { ResultFolder } from '../adapters/filesystem/result-folder.ts';
import { rotatingLog } from '../adapters/log/rotating-log.ts';
import type { Config } from '../config/resolved.ts';
import type { JudgedDay, Verdict } from '../core/checks/judged.ts';
import { UsageError } from '../core/material/errors.ts';
import { textDigest } from '../formats/catalogue/digest.ts';
import type { Health } from '../formats/terminal/health.ts';
import { formatHealth } from '../formats/terminal/health.ts';
import type { Catalogue, MediaListing, Progress } from '../ports.ts';
import type { WatchNews } from '../steps/watch/watch-media.ts';
import { watchMedia } from '../steps/watch/watch-media.ts';
import { gemelVersion } from './assets.ts';
import type { LoadedConfig } from './load-config.ts';
import { lockOutput } from './lock-output.ts';
import { ownFolder } from './open-catalogue.ts';
import { systemClock } from './system-clock.ts';
import { openWorkshop } from './workshop.ts';
import type { Mounts } from './farm/mounts.ts';
import { serveBeside } from './farm/serve-beside.ts';

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

const KIND = 'watch';

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
  const kept = await lastRun(workshop.catalogue, config);
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
    besides: async () => besides(config),
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
      const { day, made, warnings: doubts } = await runDay(loaded, options.progress, signal, { workshop, settled });
      roots = (await mediaRoots(config.media)).map(({ prefix }) => prefix).filter((prefix) => day.clips.some(({ file }) => file.startsWith(prefix)));
      standing.judged(day);
      for (const warning of doubts) log.warn(warning);
      log.info({ sets: standing.sets }, 'judged');
      options.onBoard?.(made.board);
    },
  };
  const noteMade = async (madeFrom: string): Promise<void> =>
    workshop.catalogue?.keep(KIND, new Map([[config.out, JSON.stringify({ madeFrom, stamp: await ResultFolder.stamp(config.out), sets: standing.sets, roots })]]));
  const known = new Map([...((await workshop.catalogue?.places()) ?? [])].map(([file, { signature }]) => [file, signature]));
  await watchMedia(ports, { settleMs: config.settleSeconds * 1000, known, madeFrom: kept?.madeFrom, noteMade }, signal);
  log.info('watch stopped');
}

interface LastRun {
  readonly madeFrom: string;
  /** Of the output folder: what was made there since, by whomever, was made from something else. */
  readonly stamp: string;
  readonly sets: Readonly<Record<Verdict, number>> | undefined;
  /** What stands before the files of the media folders that held clips. */
  readonly roots: readonly string[];
}

/** What the results in the output folder were made from, as long as they are there. */
async function lastRun(catalogue: Catalogue | undefined, { out }: Config): Promise<LastRun | undefined> {
  const text = (await catalogue?.find(KIND, [out]))?.get(out);
  const there = await Promise.all(['report.json', 'board.html'].map(async (name) => stat(join(out, name)).then(() => true, () => false)));
  if (text === undefined || there.includes(false)) return undefined;
  const said: unknown = JSON.parse(text);
  // Only this file writes it.
  return typeof said === 'object' && said !== null && 'madeFrom' in said && 'stamp' in said && said.stamp === (await ResultFolder.stamp(out)) ? (said as LastRun) : undefined;
}

/** A media folder that is gone, or empty where clips were before, is a volume that was ejected, not a day that was deleted. */
async function awayWords({ media }: Config, { files }: MediaListing, judgedRoots: readonly string[]): Promise<string | undefined> {
  for (const folder of media) {
    if ((await stat(folder).catch(() => undefined)) === undefined) return `${folder} is not there: the results stay as they are until it is back`;
  }
  const empty = (await mediaRoots(media)).find(({ prefix }) => judgedRoots.includes(prefix) && !files.some(({ file }) => file.startsWith(prefix)));
  return empty === undefined ? undefined : `${empty.path} holds no file any more: if its volume was ejected, the results stay as they are until it is back`;
}

/** The pipeline and the files it names, by size and time of change, and gemel's own version. */
async function besides(config: Config): Promise<string> {
  const files = [config.from, config.correctionsFile, config.shotList, ...config.cuts, config.sheetTemplate, ...config.mappingFiles].filter((file) => file !== undefined);
  const facts = await Promise.all(files.map(async (file) => stat(resolve(file)).then(({ size, mtimeMs }) => `${file} ${size} ${mtimeMs}`, () => `${file} absent`)));
  return textDigest([gemelVersion(), ...facts].join('\n'));
}

function assertSamePlaces(now: Config, before: Config): void {
  if (now.out === before.out && now.media.join('\0') === before.media.join('\0')) return;
  throw new UsageError(['the pipeline names other media or another output folder now; stop this watch and start it again']);
}

class Standing {
  sets: Readonly<Record<Verdict, number>> | undefined;
  readonly #onHealth: (health: Health) => void;
  #files = 0;
  #waiting = 0;
  #last = '';

  constructor(onHealth: (health: Health) => void, sets: Health['sets']) {
    this.#onHealth = onHealth;
    this.sets = sets;
  }

  judged(day: JudgedDay): void {
    const count = (verdict: Verdict): number => day.sets.filter((set) => set.verdict === verdict).length;
    this.sets = { yes: count('yes'), look: count('look'), no: count('no') };
  }

  hear(news: WatchNews): void {
    if (news.kind === 'looked') {
      this.#files = news.files;
      this.#waiting = news.waiting;
    }
    const state = ({ looked: 'looking', working: 'working', done: 'looking', failed: 'failed', away: 'away' } as const)[news.kind];
    const trouble = news.kind === 'away' ? news.why : news.kind === 'failed' ? `${reasonOf(news.reason)}; trying again` : undefined;
    const health = { state, files: this.#files, waiting: this.#waiting, sets: this.sets, trouble };
    const text = JSON.stringify(health);
    if (text !== this.#last) this.#onHealth(health);
    this.#last = text;
  }
}

function reasonOf(reason: unknown): string {
  return reason instanceof UsageError ? reason.problems.join('; ') : reason instanceof Error ? reason.message : String(reason);
}

/** Writes down what happens; what stays the same is written once, for a watch looks once a second for weeks. */
function newsLog(log: ReturnType<typeof rotatingLog>): (news: WatchNews) => void {
  let away = '';
  return (news) => {
    if (news.kind === 'away' && news.why === away) return;
    away = news.kind === 'away' ? news.why : '';
    logNews(log, news);
  };
}

function logNews(log: ReturnType<typeof rotatingLog>, news: WatchNews): void {
  switch (news.kind) {
    case 'looked':
      break;
    case 'working':
      log.info({ files: news.files }, 'working');
      break;
    case 'done':
      log.info({ tookMs: news.tookMs }, 'done');
      break;
    case 'failed':
      log.error({ reason: reasonOf(news.reason), againInMs: news.againInMs }, 'failed');
      break;
    case 'away':
      log.warn(news.why);
      break;
    default:
      news satisfies never;
  }
}
