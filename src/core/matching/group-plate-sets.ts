import type { Clip } from '../material/clip.ts';
import type { Unplaced } from '../material/day.ts';
import type { Finding } from '../material/finding.ts';
import type { GroupRules } from '../material/group-rules.ts';
import type { PlateSet } from '../material/plate-set.ts';
import type { ShotRow } from '../material/shot-list.ts';
import { cameraLetter } from '../material/clip-names.ts';
import { roleReader } from '../material/role-words.ts';
import { chooseMethod } from './group-method.ts';
import { guessByOrder, orderedRoles } from './group-order-roles.ts';
import { leadsByPlainSlate } from './group-plain-slates.ts';
import type { SignSources } from './group-signs.ts';
import { homeKey, rowKey, signedSetUps } from './group-signs.ts';
import { compareCounters, recordingOf } from './recording.ts';
import { compareText, groupBy } from './sorted.ts';

/** The plate sets of a day and the clips that belong to none. Clips of sets may carry roles guessed by shooting order. */
export interface GroupedSets {
  readonly sets: readonly PlateSet[];
  readonly unplaced: readonly Unplaced[];
  readonly findings: readonly Finding[];
}

/**
 * Puts clips of one set-up and one camera together, with those slated for it, whatever their roll or date. A set-up is a plate set
 * when something calls it one (see `signedSetUps`). On a day on which nothing is called anything, a set-up with exactly as many
 * takes as the default method has passes is taken for one, by shooting order: a guess, which a person must look at.
 */
export function groupPlateSets(clips: readonly Clip[], rules: GroupRules, sources: Omit<SignSources, 'grammar' | 'reader'>): GroupedSets {
  const grammar = rules.slateGrammar;
  const signed = signedSetUps(clips, { ...sources, grammar, reader: roleReader(rules.roleWords) });
  const rowsOf = groupBy(sources.shots, (row) => rowKey(row, grammar) ?? '');
  const placed = clips.filter((clip) => homeKey(clip) !== undefined);
  const sets: PlateSet[] = [];
  const unplaced: Unplaced[] = clips.filter((clip) => homeKey(clip) === undefined).map((clip) => ({ clip: clip.id, why: whyNowhere(clip) }));
  const findings: Finding[] = [];
  for (const [setUp, group] of groupBy(placed, (clip) => homeKey(clip) ?? '')) {
    const { cameras, strays } = byCamera(group, setUp);
    unplaced.push(...strays);
    for (const [camera, members] of cameras) {
      if (signed.has(setUp) || (signed.size === 0 && fitsDefault(members, rules))) {
        const made = makeSet(setUp, camera, members, rowsOf.get(setUp) ?? [], rules);
        sets.push(made.set);
        findings.push(...made.findings);
      } else {
        unplaced.push(...members.map((clip) => ordinary(clip, setUp, signed.size === 0)));
      }
    }
  }
  return {
    sets: sets.sort((a, b) => compareText(a.id, b.id)),
    unplaced: unplaced.sort((a, b) => compareText(a.clip, b.clip)),
    findings,
  };
}

/**
 * Clips of one set-up by camera letter. A clip without a letter goes with the only camera there is. So does a pass slated for the
 * set-up that another camera shot, such as a reference; with several cameras nobody can say with which.
 */
function byCamera(clips: readonly Clip[], setUp: string): { readonly cameras: ReadonlyMap<string, readonly Clip[]>; readonly strays: readonly Unplaced[] } {
  const native = new Set(clips.filter((clip) => clip.forSlate === undefined).flatMap(({ camera }) => camera ?? []));
  const letters = native.size > 0 ? native : new Set(clips.flatMap(({ camera }) => camera ?? []));
  const [only] = letters.size === 1 ? [...letters] : [];
  const strays: Unplaced[] = [];
  const staying = clips.filter((clip) => {
    const stray = clip.camera !== undefined && !letters.has(clip.camera) && only === undefined;
    if (stray) strays.push({ clip: clip.id, why: `it is for ${setUp}, but camera ${clip.camera} shot it and ${setUp} was shot on ${[...letters].sort().join(', ')}` });
    return !stray;
  });
  return { cameras: groupBy(staying, ({ camera }) => only ?? camera ?? ''), strays };
}

function makeSet(setUp: string, camera: string, members: readonly Clip[], rows: readonly ShotRow[], rules: GroupRules) {
  const inOrder = sortByRecording(members);
  const own = rows.filter((row) => row.camera === undefined || camera === '' || cameraLetter(row.camera) === camera);
  const { method, from, findings } = chooseMethod(inOrder, own, rules, setUp);
  const usable = guessByOrder(leadsByPlainSlate(inOrder.filter((clip) => clip.usable), setUp), method, setUp);
  const set: PlateSet = {
    id: camera === '' ? setUp : `${setUp}-${camera}`,
    slate: setUp,
    camera,
    method,
    methodFrom: from,
    clips: [...usable, ...inOrder.filter((clip) => !clip.usable)],
  };
  return { set, findings };
}

/** First recorded first; clips that cannot be used have no place in that order and come last. */
function sortByRecording(clips: readonly Clip[]): readonly Clip[] {
  return [...recordingOf(clips).order, ...clips.filter(({ usable }) => !usable).toSorted(compareCounters)];
}

function fitsDefault(members: readonly Clip[], rules: GroupRules): boolean {
  const method = rules.methods[rules.defaultMethod];
  const usable = members.filter((clip) => clip.usable && clip.role === 'unknown' && clip.roleEvidence.length === 0);
  return method !== undefined && usable.length > 1 && usable.length === orderedRoles(method).length && usable.length === members.length;
}

function whyNowhere({ usable, completeness }: Clip): string {
  return usable ? 'no slate in the file, its name, its sidecar, a report or a note' : `it cannot be judged (${completeness}), and nothing names its slate`;
}

function ordinary(clip: Clip, setUp: string, silentDay: boolean): Unplaced {
  const [said] = clip.roleEvidence;
  if (said !== undefined) {
    const alone = `${said.words}, which alone makes ${setUp} no plate set`;
    return { clip: clip.id, ordinary: true, why: `${alone}: ${said.role === 'reference' ? 'references are shot everywhere' : 'it may speak of a person'}; name its pass in the log if it is one` };
  }
  const hint = silentDay ? 'nothing of this day names a pass: add a pass column to the report' : 'name its pass in the log if it is one';
  return { clip: clip.id, ordinary: true, why: `no sign of a plate set: nothing calls ${setUp} one (no pass, role word, method, shot or marks); ${hint}` };
}
