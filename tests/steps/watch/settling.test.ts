import { describe, expect, it } from 'vitest';
import type { FoundFile, MediaListing } from '../../../src/ports.ts';
import { Settling } from '../../../src/steps/watch/settling.ts';

const SETTLE_MS = 5000;
const NOW = 1_000_000;

const file = (name: string, sizeBytes: number, modifiedMs: number): FoundFile => ({ path: `/media/${name}`, file: name, sizeBytes, modifiedMs });
const listing = (...files: readonly FoundFile[]): MediaListing => ({ files, unreachable: [] });
const settledNames = (settling: Settling, files: readonly FoundFile[], nowMs: number): readonly string[] => settling.look(listing(...files), nowMs).listing.files.map((found) => found.file);

describe('a file has settled', () => {
  it('when a second look finds it as it was and it was changed long ago', () => {
    const settling = new Settling(SETTLE_MS);
    const old = file('A001C001.mov', 10, NOW - 60_000);
    expect(settledNames(settling, [old], NOW)).toEqual([]);
    expect(settledNames(settling, [old], NOW + 100)).toEqual([]);
    expect(settledNames(settling, [old], NOW + 1000)).toEqual(['A001C001.mov']);
  });

  it('when it stayed the same for the settling time, whatever its clock says', () => {
    const settling = new Settling(SETTLE_MS);
    const fromAServerAhead = file('A001C001.mov', 10, NOW + 3_600_000);
    expect(settledNames(settling, [fromAServerAhead], NOW)).toEqual([]);
    expect(settledNames(settling, [fromAServerAhead], NOW + 4000)).toEqual([]);
    expect(settledNames(settling, [fromAServerAhead], NOW + 5000)).toEqual(['A001C001.mov']);
  });

  it('in the settling time and not an hour later, though the clock of the machine is put back by an hour', () => {
    const settling = new Settling(SETTLE_MS);
    const clip = file('A001C001.mov', 10, NOW);
    expect(settledNames(settling, [clip], NOW)).toEqual([]);
    const back = NOW - 3_600_000;
    expect(settledNames(settling, [clip], back)).toEqual([]);
    expect(settledNames(settling, [clip], back + 4000)).toEqual([]);
    expect(settledNames(settling, [clip], back + 5000)).toEqual(['A001C001.mov']);
  });

  it('not while it grows, though it keeps an old time of change', () => {
    const settling = new Settling(SETTLE_MS);
    for (let second = 0; second < 20; second += 1) {
      expect(settledNames(settling, [file('A001C001.mov', 10 + second, NOW - 60_000)], NOW + second * 1000)).toEqual([]);
    }
  });

  it('not any more when it changes', () => {
    const settling = new Settling(SETTLE_MS);
    settling.look(listing(file('A001C001.mov', 10, 0)), NOW);
    expect(settledNames(settling, [file('A001C001.mov', 10, 0)], NOW + 1000)).toEqual(['A001C001.mov']);
    expect(settledNames(settling, [file('A001C001.mov', 12, 0)], NOW + 2000)).toEqual([]);
  });

  it('at first sight when an earlier run ended with just these files', () => {
    const files = [file('A001C001.mov', 10, NOW - 10), file('log.csv', 3, NOW - 10)];
    const earlier = new Settling(0).look(listing(...files), NOW);
    expect(settledNames(new Settling(SETTLE_MS, earlier.state), files, NOW)).toEqual(['A001C001.mov', 'log.csv']);
    expect(settledNames(new Settling(SETTLE_MS, earlier.state), [...files, file('B001C001.mov', 1, NOW)], NOW)).toEqual([]);
  });

  it('as a picture only with its whole sequence', () => {
    const settling = new Settling(SETTLE_MS);
    const frames = (count: number): readonly FoundFile[] => Array.from({ length: count }, (_, index) => file(`plate/p.${1001 + index}.dpx`, 10, NOW - 60_000));
    settling.look(listing(...frames(3)), NOW);
    expect(settledNames(settling, frames(3), NOW + 1000)).toHaveLength(3);
    expect(settledNames(settling, [...frames(4), file('other/p.1001.dpx', 1, 0)], NOW + 2000)).toEqual([]);
    expect(settledNames(settling, [...frames(4), file('other/p.1001.dpx', 1, 0)], NOW + 3000)).toHaveLength(5);
  });

  it('never under the name of an unfinished copy, and at once neither under its own', () => {
    const settling = new Settling(SETTLE_MS);
    const old = (name: string): FoundFile => file(name, 10, NOW - 60_000);
    const unfinished = [old('A001C001.mov.part'), old('A001C001.mov.3f9a.partial'), old('A001C001.mov.filepart'), old('log.csv~'), old('~$log.csv')];
    expect(settledNames(settling, unfinished, NOW)).toEqual([]);
    const looked = settling.look(listing(...unfinished), NOW + 9000);
    expect(looked).toMatchObject({ listing: { files: [] }, waiting: [] });
    expect(looked.state).toBe(settling.look(listing(), NOW + 10_000).state);
    expect(settledNames(settling, [old('A001C001.mov')], NOW + 11_000)).toEqual([]);
    expect(settledNames(settling, [old('A001C001.mov')], NOW + 12_000)).toEqual(['A001C001.mov']);
  });

  it('again, after it was deleted, only when it came to rest again', () => {
    const settling = new Settling(SETTLE_MS);
    const old = (sizeBytes: number): FoundFile => file('A001C001.mov', sizeBytes, NOW - 60_000);
    settling.look(listing(old(10)), NOW);
    expect(settledNames(settling, [old(10)], NOW + 1000)).toHaveLength(1);
    expect(settledNames(settling, [], NOW + 2000)).toEqual([]);
    // Offloaded anew by a program that keeps the old time from the first byte on.
    for (const [at, sizeBytes] of [[3000, 4], [4000, 8], [5000, 10]] as const) expect(settledNames(settling, [old(sizeBytes)], NOW + at)).toEqual([]);
    expect(settledNames(settling, [old(10)], NOW + 6000)).toEqual(['A001C001.mov']);
  });

  it('never as another file than the one looked at', () => {
    const settling = new Settling(SETTLE_MS);
    const old = file('A001C001.mov', 10, 0);
    settling.look(listing(old), NOW);
    settling.look(listing(old), NOW + 1000);
    const now = listing({ ...old, sizeBytes: 11 }, file('B001C001.mov', 1, 0));
    expect(settling.settledOf(now, NOW + 1000).listing.files).toEqual([]);
  });
});

describe('the state of what has settled', () => {
  it('is equal for equal files in any order, and only for those', () => {
    const a = file('a.mov', 1, 1);
    const b = file('b.mov', 2, 2);
    const stateOf = (...files: readonly FoundFile[]): string => new Settling(0).look(listing(...files), NOW).state;
    expect(stateOf(a, b)).toBe(stateOf(b, a));
    const others = [stateOf(a), stateOf(b), stateOf(), stateOf(a, { ...b, sizeBytes: 3 }), stateOf(a, { ...b, modifiedMs: 3 }), stateOf(a, { ...b, file: 'c.mov' })];
    expect(new Set([stateOf(a, b), ...others]).size).toBe(7);
  });
});
