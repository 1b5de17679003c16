import type { Role } from '../material/clip.ts';
import type { Severity } from '../material/finding.ts';

/** The codes that say a pass differs from its lead in one value. */
export type DifferenceCode =
  | 'frame-rate-differs'
  | 'sensor-rate-differs'
  | 'timecode-format-differs'
  | 'shutter-differs'
  | 'lens-differs'
  | 'focal-length-differs'
  | 'focus-differs'
  | 'stop-differs'
  | 'filter-differs'
  | 'squeeze-differs'
  | 'raster-differs'
  | 'sensitivity-differs'
  | 'white-balance-differs'
  | 'codec-differs'
  | 'camera-differs'
  | 'height-differs'
  | 'tilt-differs'
  | 'roll-differs'
  | 'position-differs';

/** The worst a difference can be for a pass of one role; what a role does not name is `stop`. Common practice, no source. */
const MILDER: Readonly<Partial<Record<Role, Readonly<Partial<Record<DifferenceCode, Severity>>>>>> = {
  // Nothing that moves is taken from a clean plate, it is placed by frame and not by label, and it is often averaged.
  clean: { 'shutter-differs': 'warn', 'timecode-format-differs': 'note', 'codec-differs': 'note' },
  // A performer against a screen is lit and levelled for itself; what places it in the frame counts in full.
  element: {
    'focus-differs': 'warn',
    'stop-differs': 'warn',
    'filter-differs': 'warn',
    'raster-differs': 'warn',
    'sensitivity-differs': 'warn',
    'white-balance-differs': 'warn',
    'position-differs': 'warn',
    'codec-differs': 'note',
    'camera-differs': 'note',
  },
};

/** A ball, a chart or a texture is only looked at for its light, so nothing but the exposure of it is worth a word. */
const REFERENCE: readonly DifferenceCode[] = ['stop-differs', 'filter-differs', 'sensitivity-differs', 'white-balance-differs'];

/** The worst that a difference can be for a pass of this role; undefined when it does not matter at all. */
export function worstFor(role: Role, code: DifferenceCode): Severity | undefined {
  if (role === 'reference') return REFERENCE.includes(code) ? 'note' : undefined;
  return MILDER[role]?.[code] ?? 'stop';
}
