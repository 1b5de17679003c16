import type { CheckRules } from '../../../src/core/checks/check-rules.ts';
import type { JudgedDay, JudgedSet } from '../../../src/core/checks/judged.ts';
import type { Clip, Role } from '../../../src/core/material/clip.ts';
import type { GroupedDay } from '../../../src/core/material/day.ts';
import type { Finding } from '../../../src/core/material/finding.ts';
import type { Method } from '../../../src/core/material/method.ts';
import type { MatchedSet, PassMatch } from '../../../src/core/material/plate-set.ts';
import { checkDay } from '../../../src/steps/check/check-day.ts';
import { SYNCED, checkRules, makeFullClip, makeMatchedDay, makeSet } from '../../support/make-matched.ts';

/** One plate set before it is matched, laid out so that a test can spoil one thing of it. */
export interface Scene {
  readonly lead: Clip;
  readonly swapped: Clip;
  readonly clean: Clip;
  readonly more: readonly Clip[];
  readonly method: Partial<Method>;
  readonly match: Readonly<Record<string, Partial<PassMatch>>>;
  readonly proposed: MatchedSet['proposed'];
  readonly leftOver: MatchedSet['leftOver'];
  readonly day: Partial<GroupedDay>;
}

/** A set with nothing wrong: everything on record, everything alike. */
export function soundScene(over: Partial<Scene> = {}): Scene {
  return {
    lead: makeFullClip(1, 'lead'),
    swapped: makeFullClip(2, 'swapped'),
    clean: makeFullClip(3, 'clean'),
    more: [],
    method: {},
    match: {},
    proposed: [],
    leftOver: [],
    day: {},
    ...over,
  };
}

/** A handheld move to marks, noted for the lead and the swapped pass; the clean plate lasts as long as the lead. */
export function handheldScene(): Scene {
  const mark = (take: number, pass: string): NonNullable<GroupedDay['marks']>[number] => ({
    slate: '27B', take, pass, mark: 'door', tc: `10:0${take * 2}:01:00`, from: `moves.csv line ${take + 1}`,
  });
  return soundScene({
    clean: makeFullClip(3, 'clean', { frames: 240 }),
    method: { name: 'handheld', movingCamera: true, syncAssumed: 'warn' },
    day: { marks: [mark(1, 'Lead'), mark(2, 'Swapped')] },
  });
}

export function matchScene(scene: Scene): MatchedSet {
  const { lead, swapped, clean, more, method, match, proposed, leftOver } = scene;
  const clips = [lead, swapped, clean, ...more];
  return makeSet({ clips, method, match, proposed, leftOver });
}

export function judgeScene(scene: Scene, rules: CheckRules = checkRules()): JudgedSet {
  return setOf(checkDay(makeMatchedDay([matchScene(scene)], scene.day), rules));
}

export function setOf({ sets }: JudgedDay): JudgedSet {
  const [set] = sets;
  if (set === undefined) throw new Error('the day has no set');
  return set;
}

/** Codes with their severities, sorted: "stop-differs warn". */
export function said(findings: readonly Finding[]): readonly string[] {
  return findings.map(({ code, severity }) => `${code} ${severity}`).sort();
}

export function withPass(scene: Scene, role: Extract<Role, 'lead' | 'swapped' | 'clean'>, over: Partial<Clip>): Scene {
  return { ...scene, [role]: { ...scene[role], ...over } };
}

/** A sync that is stated, at an offset. */
export function syncedAt(offset: number): Partial<PassMatch> {
  return { sync: { ...SYNCED, offset } };
}
