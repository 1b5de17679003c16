import type { Clip, Role, RoleEvidence } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import { clipName, listed, roleName } from './passes.ts';
import { raise } from './raise.ts';

/** Below this a role is a guess from shooting order. */
const GUESS = 0.5;

/** Whether only a guess says what a clip is. */
export function isGuessed({ role, roleConfidence }: Clip): boolean {
  return role !== 'unknown' && roleConfidence < GUESS;
}

/** Places that call one clip different things, unless a person has put it right. Shooting order contradicts nobody: it is a guess. */
export function checkRoleConflict(clip: Clip): readonly Finding[] {
  const { roleEvidence } = clip;
  if (roleEvidence.some(({ kind }) => kind === 'correction')) return [];
  const stated = roleEvidence.filter(({ kind, role }) => kind !== 'order' && role !== 'unknown');
  const roles = [...new Set(stated.map(({ role }) => role))];
  if (roles.length < 2) return [];
  const others = roles.filter((role) => role !== clip.role);
  return [
    raise({
      code: 'role-conflict',
      severity: 'warn',
      subject: [clip],
      clip,
      roles: [...roles].sort(byName),
      measured: { value: listed(others.sort(byName).map(roleName)), unit: '' },
      allowed: { value: roleName(clip.role), unit: '' },
      evidence: stated.map(said),
    }),
  ];
}

/** The passes of a set whose role only shooting order tells. One finding for all: they are one guess. */
export function checkGuessedRoles(clips: readonly Clip[]): readonly Finding[] {
  const guessed = clips.filter(isGuessed);
  if (guessed.length === 0) return [];
  return [
    raise({
      code: 'role-guessed',
      severity: 'warn',
      subject: guessed,
      clips: guessed,
      measured: { value: 'shooting order', unit: '' },
      allowed: { value: 'a log, a slate, a note or a name', unit: '' },
      evidence: guessed.flatMap((clip) => clip.roleEvidence.map(({ words }) => `${clipName(clip)}: ${words}`)),
    }),
  ];
}

function byName(a: Role, b: Role): number {
  return a < b ? -1 : Number(a > b);
}

function said({ words }: RoleEvidence): string {
  return words;
}
