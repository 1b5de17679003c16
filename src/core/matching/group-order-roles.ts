import type { Clip, Role } from '../material/clip.ts';
import type { Method } from '../material/method.ts';
import { ROLE_WEIGHTS } from '../material/role-evidence.ts';
import { roleText } from './pass-name.ts';

/** The order crews shoot in: common practice, no source. */
const SHOT_IN_ORDER: readonly Role[] = ['lead', 'swapped', 'clean'];

/** The roles a method asks for that shooting order can tell, in that order. */
export function orderedRoles({ required }: Method): readonly Role[] {
  return SHOT_IN_ORDER.filter((role) => required.includes(role));
}

/**
 * Guesses roles by shooting order for clips of one set that nothing else speaks of, first recorded first; everything else stays.
 * Only gaps that one reading fills are filled: three takes without a word are lead, swapped, clean; one between a lead and a clean
 * plate is the swapped pass; one after a lead may be swapped or clean, and stays unknown.
 */
export function guessByOrder(clips: readonly Clip[], method: Method, setUp: string): readonly Clip[] {
  const roles = orderedRoles(method);
  const guesses = new Map<Clip, Role>();
  const missing = roles.filter((role) => !clips.some((clip) => clip.role === role));
  let run: Clip[] = [];
  let before = -1;
  for (const clip of [...clips, undefined]) {
    const place = clip === undefined ? roles.length : roles.indexOf(clip.role);
    if (clip?.role === 'unknown' && clip.roleEvidence.length === 0) {
      run.push(clip);
    } else if (place >= 0) {
      const between = missing.filter((role) => roles.indexOf(role) > before && roles.indexOf(role) < place);
      for (const [position, role] of rolesOfRun(run.length, before, before === place ? [] : between, before === place ? roles[place] : undefined).entries()) {
        const guessed = run[position];
        if (guessed !== undefined) guesses.set(guessed, role);
      }
      run = [];
      before = place;
    }
  }
  if (guesses.size === 0) return clips;
  return clips.map((clip, position) => {
    const role = guesses.get(clip);
    return role === undefined ? clip : withGuess(clip, role, `clip ${position + 1} of ${clips.length} of ${setUp}`);
  });
}

/** Roles for the first clips of a run of silent ones; shorter than the run where the rest cannot be told. */
function rolesOfRun(length: number, before: number, between: readonly Role[], same: Role | undefined): readonly Role[] {
  const [first] = between;
  // Between two takes of one role lies another take of it.
  if (same !== undefined) return Array.from({ length }, () => same);
  if (first === undefined) return [];
  if (between.length === length) return between;
  if (before >= 0) return [];
  // The day begins with the lead: what comes first is one, and all of it when nothing else is missing.
  if (between.length === 1) return Array.from({ length }, () => first);
  return length < between.length ? between.slice(0, length) : [first];
}

function withGuess(clip: Clip, role: Role, place: string): Clip {
  const words = `nobody says what it is: by shooting order (${place}) it would be the ${roleText(role)}`;
  return { ...clip, role, roleEvidence: [{ role, kind: 'order', weight: ROLE_WEIGHTS.order, words }], roleConfidence: ROLE_WEIGHTS.order };
}
