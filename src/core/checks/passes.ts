import type { Clip, Role } from '../material/clip.ts';
import type { Method } from '../material/method.ts';
import type { Sync } from '../material/plate-set.ts';
import type { FrameRange } from '../timecode/range.ts';

/** A lead and one pass matched to it, as the checks hold them against each other. */
export interface MatchedPasses {
  readonly lead: Clip;
  readonly pass: Clip;
  readonly role: Role;
  readonly sync: Sync;
  readonly method: Method;
  /** The frames of the lead that matter: what the shots need of it, the whole take when no cut is known. */
  readonly frames: FrameRange;
}

const ROLE_NAMES: Readonly<Record<Role, string>> = {
  lead: 'lead pass',
  swapped: 'swapped pass',
  clean: 'clean plate',
  reference: 'reference pass',
  element: 'element',
  unknown: 'pass nobody named',
};

/** What people call a role: "clean plate". */
export function roleName(role: Role): string {
  return ROLE_NAMES[role];
}

/** What people call a clip: its file name without folder, frame numbers and extension; "A003C012" for `A003C012_261125_R7QK.mov`. */
export function clipName({ file }: Pick<Clip, 'file'>): string {
  const name = stemOf(file);
  return /^[A-Z]\d{3,4}C\d{3}(?=_\d{6}_)/.exec(name)?.[0] ?? name;
}

/** The file name without folder, frame numbers and extension. */
export function stemOf(file: string): string {
  const name = file.slice(file.lastIndexOf('/') + 1);
  return name.replace(/(?:[._]?#+)?\.[A-Za-z0-9]+$/, '') || name;
}

/** Several clips in a sentence: "A", "A and B", "A, B and C". */
export function listed(names: readonly string[]): string {
  const last = names.at(-1) ?? '';
  return names.length < 2 ? last : `${names.slice(0, -1).join(', ')} and ${last}`;
}
