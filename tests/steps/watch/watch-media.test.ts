import { describe, expect, it } from 'vitest';
import type { FoundFile, MediaListing } from '../../../src/ports.ts';
import type { WatchNews, WatchPorts } from '../../../src/steps/watch/watch-media.ts';
import { watchMedia } from '../../../src/steps/watch/watch-media.ts';

const file = (name: string, sizeBytes = 10, modifiedMs = 0): FoundFile => ({ path: `/media/${name}`, file: name, sizeBytes, modifiedMs });

interface Scene {
  /** What lies in the folders at each look; the last stays. */
  readonly looks: readonly (readonly FoundFile[] | Error)[];
  readonly away?: (look: number) => string | undefined;
  readonly failing?: (time: number) => Error | undefined;
  readonly besides?: (look: number) => string;
  readonly madeFrom?: string;
}

/** Watches a scene until every look was taken and two more; time goes on by what the watch pauses. */
async function watchScene({ looks, away, failing, besides, madeFrom }: Scene): Promise<{ readonly worked: readonly (readonly string[])[]; readonly news: readonly WatchNews[]; readonly made: readonly string[] }> {
  const stop = new AbortController();
  const worked: (readonly string[])[] = [];
  const news: WatchNews[] = [];
  const made: string[] = [];
  let nowMs = 10_000_000;
  let look = -1;
  const filesNow = (): readonly FoundFile[] => {
    const found = looks[Math.min(look, looks.length - 1)] ?? [];
    if (found instanceof Error) throw found;
    return found;
  };
  const ports: WatchPorts = {
    store: {
      list: async (): Promise<MediaListing> => {
        look += 1;
        if (look > looks.length + 1) stop.abort();
        return { files: filesNow(), unreachable: [] };
      },
      open: () => Promise.reject(new Error('a watch opens nothing')),
      readBytes: () => Promise.reject(new Error('a watch reads nothing')),
      readWhole: () => Promise.reject(new Error('a watch reads nothing')),
    },
    // A minute for one look is never over here.
    clock: { nowMs: () => nowMs, pause: async (ms) => (ms < 60_000 ? undefined : new Promise(() => {})) },
    hints: { wait: async (mostMs) => void (nowMs += mostMs) },
    work: async (settled) => {
      const problem = failing?.(worked.length);
      worked.push(settled({ files: filesNow(), unreachable: [] }).files.map(({ file: name }) => name));
      if (problem !== undefined) throw problem;
    },
    away: async () => away?.(look),
    besides: async () => besides?.(look) ?? '',
    tell: (one) => void news.push(one),
  };
  await watchMedia(ports, { settleMs: 3000, madeFrom, noteMade: async (from) => void made.push(from) }, stop.signal);
  return { worked, news, made };
}

describe('a watch', () => {
  it('judges what has settled, once, and again when something changes', async () => {
    const a = file('a.mov');
    const growing = (size: number): FoundFile => file('b.mov', size, 10_000_000);
    const { worked } = await watchScene({ looks: [[a], [a], [a, growing(1)], [a, growing(2)], [a, growing(2)], [a, growing(2)], [a, growing(2)], [a, growing(2)], [a, growing(2)]] });
    expect(worked.filter((names) => names.length > 0)).toEqual([['a.mov'], ['a.mov', 'b.mov']]);
  });

  it('does nothing when the results were made from just what lies there', async () => {
    const looks = [[file('a.mov')], [file('a.mov')], [file('a.mov')]];
    const { made } = await watchScene({ looks });
    expect(await watchScene({ looks, madeFrom: made.at(-1) ?? '' })).toMatchObject({ worked: [], made: [] });
  });

  it('follows a folder that is renamed, file by file', async () => {
    const before = [file('A014/1.mov'), file('A014/2.mov')];
    const half = [file('A014/2.mov'), file('B/1.mov')];
    const after = [file('B/1.mov'), file('B/2.mov')];
    const { worked } = await watchScene({ looks: [before, before, half, after, after] });
    // What went is gone at once; what came must come to rest.
    expect(worked).toEqual([['A014/1.mov', 'A014/2.mov'], ['A014/2.mov'], ['B/1.mov'], ['B/1.mov', 'B/2.mov']]);
  });

  it('keeps results while a file they were made from is written anew, with whatever else happens, and then takes both', async () => {
    const [clip, more, log] = [file('a.mov'), file('b.mov'), file('log.csv')];
    const saved = file('log.csv', 11, 10_003_000);
    const { worked } = await watchScene({ looks: [[clip, log], [clip, log], [clip, saved], [clip, saved, more], [clip, saved, more], [clip, saved, more], [clip, saved, more], [clip, saved, more]] });
    expect(worked).toEqual([['a.mov', 'log.csv'], ['a.mov', 'log.csv', 'b.mov']]);
  });

  it('does so, too, when the results were made by an earlier run', async () => {
    const files = [file('a.mov'), file('log.csv')];
    const { made } = await watchScene({ looks: [files, files] });
    const saved = [file('a.mov'), file('log.csv', 11, 10_003_000)];
    const { worked } = await watchScene({ looks: [files, files, saved, saved, saved, saved, saved, saved], madeFrom: made.at(-1) ?? '' });
    expect(worked).toEqual([['a.mov', 'log.csv']]);
  });

  it('does not wait for ever for a file that never comes to rest again', async () => {
    const clip = file('a.mov');
    const { worked } = await watchScene({ looks: [[clip, file('log.csv')], [clip, file('log.csv')], ...Array.from({ length: 70 }, (_, look) => [clip, file('log.csv', 11 + look, 10_000_000)])] });
    expect(worked.slice(0, 2)).toEqual([['a.mov', 'log.csv'], ['a.mov']]);
  });

  it('takes a deleted card off the results and puts it back when it is offloaded again', async () => {
    const card = [file('A014/1.mov'), file('A014/2.mov')];
    const log = file('log.csv');
    const { worked } = await watchScene({ looks: [[...card, log], [...card, log], [log], [log], [...card, log], [...card, log]] });
    expect(worked).toEqual([['A014/1.mov', 'A014/2.mov', 'log.csv'], ['log.csv'], ['A014/1.mov', 'A014/2.mov', 'log.csv']]);
  });

  it('is not moved by what copy programs do under names of their own', async () => {
    const whole = file('A014/1.mov');
    const growing = (size: number): FoundFile => file('A014/2.mov.part', size);
    const { worked } = await watchScene({ looks: [[whole], [whole], [whole, growing(1)], [whole, growing(1)], [whole, growing(2)], [whole, growing(2)], [whole, file('A014/2.mov', 2)], [whole, file('A014/2.mov', 2)]] });
    expect(worked).toEqual([['A014/1.mov'], ['A014/1.mov', 'A014/2.mov']]);
  });

  it('judges anew when the pipeline changes, though the media do not', async () => {
    const looks = Array.from({ length: 6 }, () => [file('a.mov')]);
    const { worked } = await watchScene({ looks, besides: (look) => (look < 4 ? 'first' : 'second') });
    expect(worked.filter((names) => names.length > 0)).toHaveLength(2);
  });

  it('tries again, ever more slowly, when a round fails, and tells of it', async () => {
    const looks = Array.from({ length: 8 }, () => [file('a.mov')]);
    const { worked, news, made } = await watchScene({ looks, failing: (time) => (time < 3 ? new Error('no space left') : undefined) });
    const failures = news.filter((one) => one.kind === 'failed');
    expect(failures.map(({ againInMs }) => againInMs)).toEqual([1000, 2000, 4000]);
    expect(worked.length).toBeGreaterThan(3);
    expect(made).toHaveLength(1);
  });

  it('makes the results anew after a failed round, though what settled is again what they were made from', async () => {
    const [a, b] = [file('a.mov'), file('b.mov')];
    const { worked } = await watchScene({ looks: [[a], [a], [a, b], [a, b], [a], [a]], failing: (time) => (time === 1 ? new Error('no space left') : undefined) });
    expect(worked).toEqual([['a.mov'], ['a.mov', 'b.mov'], ['a.mov']]);
  });

  it('outlives folders that cannot be listed', async () => {
    const { worked, news } = await watchScene({ looks: [new Error('stale handle'), new Error('stale handle'), [file('a.mov')], [file('a.mov')]] });
    expect(news.filter(({ kind }) => kind === 'failed')).toHaveLength(2);
    expect(worked.at(-1)).toEqual(['a.mov']);
  });

  it('leaves the results alone while a volume is away', async () => {
    const { worked, news } = await watchScene({ looks: [[file('a.mov')], [file('a.mov')], [], [], [file('a.mov')]], away: (look) => (look === 2 || look === 3 ? 'ejected' : undefined) });
    expect(worked.filter((names) => names.length > 0)).toEqual([['a.mov']]);
    expect(news.filter(({ kind }) => kind === 'away')).toHaveLength(2);
  });

  it('looks again within the second when the clock is put back by an hour while it looks', async () => {
    const stop = new AbortController();
    const waits: number[] = [];
    let nowMs = 10_000_000;
    const never = (): never => {
      throw new Error('not asked for');
    };
    await watchMedia(
      {
        store: {
          list: async () => {
            nowMs -= 3_600_000;
            return { files: [], unreachable: [] };
          },
          open: never,
          readBytes: never,
          readWhole: never,
        },
        clock: { nowMs: () => nowMs, pause: async (ms) => (ms < 60_000 ? void waits.push(ms) : new Promise(() => {})) },
        hints: {
          wait: async (ms) => {
            waits.push(ms);
            stop.abort();
          },
        },
        work: never,
        away: async () => undefined,
        besides: async () => '',
        tell: () => {},
      },
      { settleMs: 3000, madeFrom: undefined, noteMade: never },
      stop.signal,
    );
    expect(waits).toEqual([1000]);
  });

  it('says so when the folders do not answer, and goes on when they do', async () => {
    const stop = new AbortController();
    const news: WatchNews[] = [];
    let answer = (): void => {};
    const listing = new Promise<MediaListing>((resolve) => (answer = () => resolve({ files: [], unreachable: [] })));
    const never = (): never => {
      throw new Error('not asked for');
    };
    await watchMedia(
      {
        store: { list: async () => listing, open: never, readBytes: never, readWhole: never },
        clock: { nowMs: () => 0, pause: async () => {} },
        hints: { wait: async () => stop.abort() },
        work: never,
        away: async () => undefined,
        besides: async () => '',
        tell: (one) => {
          news.push(one);
          // The share comes back once it was said that it is gone.
          if (one.kind === 'away') answer();
        },
      },
      { settleMs: 3000, madeFrom: undefined, noteMade: never },
      stop.signal,
    );
    expect(news[0]).toMatchObject({ why: expect.stringMatching(/have not answered for a minute/) });
    expect(news.map(({ kind }) => kind)).toEqual(['away', 'looked']);
  });
});
