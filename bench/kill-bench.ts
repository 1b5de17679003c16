import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { makeSmallDay, writeCut } from '../tests/support/small-day.ts';
import { WatchProcess } from './watch-process.ts';

const GEMEL = fileURLToPath(new URL('../bin/gemel.mjs', import.meta.url));

/** What came of killing: how often it was done, and everything that was not as it should be, in words. */
export interface KillFigures {
  readonly kills: number;
  /** Kills that met a process at work, not at rest or still starting. */
  readonly atWork: number;
  readonly faults: readonly string[];
}

/** Numbers from 0 to 1 that look random and are the same in every run (Numerical Recipes, 7.1.4). */
function dice(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

/**
 * Kills a watch at random moments while its media change, `kills` times; after each kill all that is there must be whole, and at the
 * end equal to what a run that was never killed makes of the same media.
 */
export async function killWatch(kills: number, seed = 1): Promise<KillFigures> {
  const folder = mkdtempSync(join(tmpdir(), 'gemel-kills-'));
  const random = dice(seed);
  const faults: string[] = [];
  let atWork = 0;
  try {
    await makeSmallDay(folder);
    cpSync(join(folder, 'media', 'A003_R7QK'), join(folder, 'aside'), { recursive: true });
    for (let kill = 0; kill < kills; kill += 1) {
      change(folder, random);
      const watch = new WatchProcess(folder);
      // Half of them early, while it starts and reads; half while it judges and prints.
      if (random() < 0.5) await pause(random() * 3000);
      else {
        await watch.line((text) => text.startsWith('judging'), 0, 60_000).catch(() => {});
        await pause(random() * 2500);
      }
      if (watch.lines.at(-1)?.text.startsWith('watching') === false) atWork += 1;
      await watch.stop('SIGKILL');
      faults.push(...halfThings(join(folder, 'out')).map((fault) => `kill ${kill}: ${fault}`));
    }
    const watch = new WatchProcess(folder);
    await watch.rest(filesIn(folder), 2500);
    await watch.stop();
    await gemel(folder, ['run', 'show.yaml', '--out', 'alone', '--no-picture']);
    faults.push(...differences(join(folder, 'alone'), join(folder, 'out')));
    return { kills, atWork, faults };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Kills a turnover at random moments until it has ended by itself, again and again. */
export async function killTurnover(kills: number, seed = 2): Promise<KillFigures> {
  const folder = mkdtempSync(join(tmpdir(), 'gemel-kills-'));
  const random = dice(seed);
  const faults: string[] = [];
  let done = 0;
  let atWork = 0;
  try {
    await makeSmallDay(folder);
    writeCut(join(folder, 'cut.edl'), [
      ['SMR_027_0100', 'A003C001_261125_R7QK.mov', '14:22:01:00', '14:22:03:00', '01:00:00:00', '01:00:02:00'],
      ['SMR_031_0200', 'A003C004_261125_R7QK.mov', '15:02:01:00', '15:02:03:00', '01:00:02:00', '01:00:04:00'],
    ]);
    // Apart from each other: a package that lies beside would count as the one before.
    for (const name of ['reference', 'vendor']) mkdirSync(join(folder, name));
    const args = (beside: string): readonly string[] => ['turnover', 'show.yaml', '--cut', 'cut.edl', '--out', `${beside}/t1`, '--frames', 'dpx'];
    const [reference, packaged] = [join(folder, 'reference', 't1'), join(folder, 'vendor', 't1')];
    if ((await gemel(folder, args('reference'))) !== 0) throw new Error('the turnover that nobody kills does not end well');
    while (done < kills) {
      const building = join(folder, 'vendor', '.t1.building');
      // A quarter while it starts and reads, the others while it pulls and seals.
      const isEarly = random() < 0.25;
      const code = await gemel(folder, args('vendor'), { until: () => isEarly || existsSync(building), afterMs: random() * 4000 });
      if (code === null) {
        done += 1;
        if (existsSync(building)) atWork += 1;
      }
      if (!existsSync(packaged)) continue;
      faults.push(...differences(reference, packaged).map((fault) => `kill ${done}: ${fault}`));
      rmSync(packaged, { recursive: true });
    }
    const code = await gemel(folder, args('vendor'));
    if (code !== 0) faults.push(`the last run ends with ${code}`);
    faults.push(...differences(reference, packaged));
    if ((await gemel(folder, ['receive', 'vendor/t1', '--out', 'receipt'])) !== 0) faults.push('the package is not received');
    return { kills: done, atWork, faults };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The card is renamed, a clip goes or comes back, or the log is written anew. */
function change(folder: string, random: () => number): void {
  const media = join(folder, 'media');
  const card = readdirSync(media).find((name) => name.startsWith('A003')) ?? '';
  const clips = readdirSync(join(folder, 'aside'));
  const clip = clips[Math.floor(random() * clips.length)] ?? '';
  const which = random();
  if (which < 0.3) renameSync(join(media, card), join(media, card === 'A003_R7QK' ? 'A003_RENAMED' : 'A003_R7QK'));
  else if (which < 0.8 && existsSync(join(media, card, clip))) rmSync(join(media, card, clip));
  else if (which < 0.8) cpSync(join(folder, 'aside', clip), join(media, card, clip), { preserveTimestamps: true });
  else writeFileSync(join(media, 'script-log.csv'), `${readFileSync(join(media, 'script-log.csv'), 'utf8').trimEnd()}\n`);
}

/** What a kill may never leave: a result that is cut off, and a catalogue that is not sound. */
function halfThings(out: string): readonly string[] {
  const faults: string[] = [];
  if (existsSync(join(out, 'report.json'))) {
    try {
      JSON.parse(readFileSync(join(out, 'report.json'), 'utf8'));
    } catch {
      faults.push('report.json is cut off');
    }
  }
  if (existsSync(join(out, 'board.html')) && !readFileSync(join(out, 'board.html'), 'utf8').trimEnd().endsWith('</html>')) faults.push('board.html is cut off');
  for (const name of existsSync(join(out, 'sheets')) ? readdirSync(join(out, 'sheets')) : []) {
    if (name.endsWith('.pdf') && !readFileSync(join(out, 'sheets', name), 'latin1').trimEnd().endsWith('%%EOF')) faults.push(`${name} is cut off`);
  }
  const catalogue = join(out, '.gemel', 'catalogue.sqlite');
  if (existsSync(catalogue) && statSync(catalogue).size > 0) {
    // A copy: whoever looks must not mend what the next start is to find.
    const copy = `${out}-copy`;
    cpSync(join(out, '.gemel'), copy, { recursive: true });
    const database = new DatabaseSync(join(copy, 'catalogue.sqlite'));
    const verdict = database.prepare('PRAGMA integrity_check').get()?.['integrity_check'];
    database.close();
    rmSync(copy, { recursive: true });
    if (verdict !== 'ok') faults.push(`the catalogue: ${String(verdict)}`);
  }
  return faults;
}

/** Files that differ between two folders, gemel's own notes and the seal, which says when it was made, left out. */
function differences(expected: string, found: string): readonly string[] {
  if (!existsSync(found)) return [`${found} is not there`];
  const digests = (folder: string): ReadonlyMap<string, string> =>
    new Map(
      readdirSync(folder, { recursive: true, encoding: 'utf8' })
        .filter((name) => !name.startsWith('.gemel') && !name.startsWith('ascmhl') && statSync(join(folder, name)).isFile())
        .map((name) => [name, createHash('sha256').update(readFileSync(join(folder, name))).digest('hex')]),
    );
  const [before, after] = [digests(expected), digests(found)];
  return [...new Set([...before.keys(), ...after.keys()])].filter((name) => before.get(name) !== after.get(name)).map((name) => `${name}: ${after.has(name) ? (before.has(name) ? 'differs' : 'should not be there') : 'is missing'}`);
}

function filesIn(folder: string): number {
  return readdirSync(join(folder, 'media'), { recursive: true, encoding: 'utf8' }).filter((name) => statSync(join(folder, 'media', name)).isFile()).length;
}

/** When to kill: so long after something is so. */
interface Killing {
  readonly until: () => boolean;
  readonly afterMs: number;
}

/** Runs gemel to its end, or kills it: then the answer is null. */
async function gemel(folder: string, args: readonly string[], killing?: Killing): Promise<number | null> {
  const child = spawn(process.execPath, [GEMEL, ...args], { cwd: folder, stdio: 'ignore', env: { ...process.env, NODE_COMPILE_CACHE: join(folder, 'compile-cache') } });
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  if (killing === undefined) return ended;
  while (child.exitCode === null && !killing.until()) await pause(50);
  await Promise.race([ended, pause(killing.afterMs)]);
  child.kill('SIGKILL');
  return ended;
}
