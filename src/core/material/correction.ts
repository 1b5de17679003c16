import type { ClipId, Role } from './clip.ts';

/** Who decided, why, and where it stands ("corrections.yaml, line 12"): shown wherever the correction is used. */
export interface CorrectionBasis {
  readonly id: string;
  readonly who: string;
  readonly why: string;
  readonly from: string;
}

/** What a person fixed by hand. Highest trust of all; every use is shown on the sheet. Clips are named by file or by file name. */
export type Correction = CorrectionBasis &
  (
    | { readonly kind: 'slate'; readonly clip: string; readonly slate: string }
    | { readonly kind: 'role'; readonly clip: string; readonly role: Role }
    | { readonly kind: 'confirm'; readonly lead: string; readonly clip: string; readonly role?: Role }
    | { readonly kind: 'forbid'; readonly lead: string; readonly clip: string }
    | { readonly kind: 'sync'; readonly lead: string; readonly clip: string; readonly offset: number }
  );

/** A correction that names no clip of the day is a finding, not silence. */
export function correctionNamesClip(name: string, file: ClipId): boolean {
  return name === file || file.endsWith(`/${name}`);
}
