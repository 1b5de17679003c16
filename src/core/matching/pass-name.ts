import type { Clip, Role } from '../material/clip.ts';
import { stemOf } from '../material/clip-names.ts';

/** What people call a clip in a sentence: its slate and take, and its name: "27B-3 (A003C012_261125_R7QK)". */
export function passName({ slate, file }: Clip): string {
  return slate === undefined ? stemOf(file) : `${slate.text} (${stemOf(file)})`;
}

const ROLE_NAMES: Readonly<Record<Role, string>> = {
  lead: 'lead pass',
  swapped: 'swapped pass',
  clean: 'clean plate',
  reference: 'reference pass',
  element: 'element',
  unknown: 'pass',
};

/** What people call a role: "clean plate". */
export function roleText(role: Role): string {
  return ROLE_NAMES[role];
}
