import type { Clip } from '../material/clip.ts';
import type { Finding } from '../material/finding.ts';
import { roleConflict } from '../material/role-evidence.ts';
import { clipName, roleName } from './passes.ts';
import { raise } from './raise.ts';

/** Below this a role is a guess (see `Clip.roleConfidence`). */
const GUESS = 0.5;

/** Whether only a guess says what a clip is. */
export function isGuessed({ role, roleConfidence }: Clip): boolean {
  return role !== 'unknown' && roleConfidence < GUESS;
}

/** Places that call one clip different things with like authority, unless a person has put it right. */
export function checkRoleConflict(clip: Clip): readonly Finding[] {
  const conflict = roleConflict(clip);
  if (conflict === undefined) return [];
  const { a, b } = conflict;
  return [
    raise({
      code: 'role-conflict',
      severity: 'warn',
      subject: [clip],
      clip,
      roles: [a.role, b.role],
      measured: { value: roleName(b.role), unit: '' },
      allowed: { value: roleName(a.role), unit: '' },
      evidence: [a.words, b.words],
    }),
  ];
}

/** The passes of a set whose role is guessed: by shooting order, or by a note that names several. One finding for all. */
export function checkGuessedRoles(clips: readonly Clip[]): readonly Finding[] {
  const guessed = clips.filter(isGuessed);
  if (guessed.length === 0) return [];
  return [
    raise({
      code: 'role-guessed',
      severity: 'warn',
      subject: guessed,
      clips: guessed,
      measured: { value: 'a guess', unit: '' },
      allowed: { value: 'a log, a slate, a note or a name that says so', unit: '' },
      evidence: guessed.flatMap((clip) => clip.roleEvidence.map(({ words }) => `${clipName(clip)}: ${words}`)),
    }),
  ];
}
