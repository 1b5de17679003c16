/**
 * How long a farm takes, worked out from measured times: jobs wait for a slot of a worker, the database that hands them out, a core,
 * and the storage. It leaves out what the watch does alone: listing, judging, writing.
 */

/** One kind of job. Seconds each: a core of a worker, the storage (bytes over its speed), and waiting that holds neither. */
export interface JobCost {
  readonly name: string;
  readonly jobs: number;
  readonly slots: number;
  readonly coreS: number;
  readonly storageS: number;
  readonly waitS: number;
}

export interface FarmLimits {
  readonly coresAWorker: number;
  /** Jobs the database hands out and takes back in a second. */
  readonly databaseJobsPerS: number;
}

/** Seconds until the last job is done, and the share of that time in which each resource was busy. */
export interface FarmOutcome {
  readonly seconds: number;
  readonly database: number;
  readonly storage: number;
  readonly cores: number;
}

/** Runs one kind of job over so many workers. */
export function simulateFarm({ jobs, slots, coreS, storageS, waitS }: JobCost, workers: number, { coresAWorker, databaseJobsPerS }: FarmLimits): FarmOutcome {
  const databaseS = 1 / databaseJobsPerS;
  const ready = new Float64Array(workers * slots);
  const cores = new Float64Array(workers * coresAWorker);
  let databaseFree = 0;
  let storageFree = 0;
  for (let job = 0; job < jobs; job += 1) {
    const slot = least(ready, 0, ready.length);
    const fetched = Math.max(ready[slot] ?? 0, databaseFree) + databaseS;
    databaseFree = fetched;
    const loaded = Math.max(fetched, storageFree) + storageS;
    storageFree = loaded;
    const worker = Math.floor(slot / slots);
    const core = least(cores, worker * coresAWorker, (worker + 1) * coresAWorker);
    const done = Math.max(loaded, cores[core] ?? 0) + coreS;
    cores[core] = done;
    ready[slot] = done + waitS;
  }
  const seconds = ready.reduce((latest, time) => Math.max(latest, time), 0);
  return { seconds, database: (jobs * databaseS) / seconds, storage: (jobs * storageS) / seconds, cores: (jobs * coreS) / (seconds * workers * coresAWorker) };
}

function least(times: Float64Array, from: number, to: number): number {
  let found = from;
  for (let index = from + 1; index < to; index += 1) if ((times[index] ?? 0) < (times[found] ?? 0)) found = index;
  return found;
}

/** 100,000 clips, as measured: `bench read` and `bench farm` on a busy machine of two cores, and sheets of the sample day. */
const CLIPS = 100_000;
const STORAGE_BYTES_PER_S = 1e9;
const JOBS: readonly JobCost[] = [
  // 32 clips a job: 25 ms a clip with ExifTool; header, index and eight places, half a megabyte; 10 ms of a share's answers.
  { name: 'read', jobs: Math.ceil(CLIPS / 32), slots: 4, coreS: 32 * 0.025, storageS: (32 * 0.5e6) / STORAGE_BYTES_PER_S, waitS: 32 * 0.01 },
  // A sheet of every eight clips: 1.4 s of a core with its nine frames, taken for 5 MB each.
  { name: 'sheet', jobs: CLIPS / 8, slots: 2, coreS: 1.4, storageS: 45e6 / STORAGE_BYTES_PER_S, waitS: 0.05 },
  // The pictures of as many sets: 15 s of a core for two passes of 240 frames and a clean plate (`bench picture-day`), 450 MB of ProRes.
  { name: 'decode', jobs: CLIPS / 8, slots: 2, coreS: 15, storageS: 450e6 / STORAGE_BYTES_PER_S, waitS: 0.05 },
  // Files of 1 GB: .15 s of a core for xxh64 (`bench seal`).
  { name: 'hash', jobs: CLIPS, slots: 1, coreS: 0.15, storageS: 1e9 / STORAGE_BYTES_PER_S, waitS: 0.01 },
];
const LIMITS: FarmLimits = { coresAWorker: 2, databaseJobsPerS: 170 };

/** A table for 1, 10 and 100 workers, in Markdown. */
export function farmTable(): string {
  const rows = [1, 4, 10, 20, 100].flatMap((workers) =>
    JOBS.map((cost) => {
      const { seconds, database, storage, cores } = simulateFarm(cost, workers, LIMITS);
      const share = (part: number): string => `${Math.round(part * 100)} %`;
      return `| ${workers} | ${cost.jobs} × ${cost.name} | ${time(seconds)} | ${share(cores)} | ${share(database)} | ${share(storage)} |`;
    }),
  );
  return ['| workers | jobs | takes | cores busy | database busy | storage busy |', '| ---: | --- | ---: | ---: | ---: | ---: |', ...rows].join('\n');
}

function time(seconds: number): string {
  return seconds < 5400 ? `${Math.round(seconds / 60)} min` : `${(seconds / 3600).toFixed(1)} h`;
}
