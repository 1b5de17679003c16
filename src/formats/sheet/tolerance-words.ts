import { refusalText } from '../../core/checks/cost.ts';
import type { FocusTolerance } from '../../core/optics/focus-tolerance.ts';
import type { PlusMinus, Tolerance, ToleranceOf } from '../../core/optics/tolerance-for.ts';
import { numberWords } from './value-words.ts';

/** A tolerance as a crew reads it, or why there is none. `fine`: closer than a tape or a level can be read. */
export type ToleranceWords =
  | { readonly kind: 'within'; readonly text: string; readonly fine: boolean }
  | { readonly kind: 'free'; readonly text: string }
  | { readonly kind: 'missing'; readonly what: readonly string[] }
  | { readonly kind: 'impossible'; readonly text: string };

/** What a tape and a level on a head can be read to, mm and degrees. Common practice, no source. */
export const READ_TO = { mm: 2, degrees: 0.1 } as const;

/** Stands behind a tolerance that is finer than that. */
export const FINE = '◇';

/** A tolerance in the unit it is set in: "± 0.64 cm", "± 0.1 stop". Rounded towards zero to two figures, so that what is printed still keeps the limit. */
export function toleranceWords(tolerance: Tolerance, setAt?: number): ToleranceWords {
  switch (tolerance.kind) {
    case 'plus-minus': return { kind: 'within', ...amountWords(tolerance) };
    case 'range': return { kind: 'within', text: focusWords(tolerance, setAt), fine: false };
    case 'free': return { kind: 'free', text: `free: ${tolerance.why}` };
    case 'unknown': return { kind: 'missing', what: tolerance.missing };
    case 'refused': return { kind: 'impossible', text: `no tolerance: ${tolerance.refusals.map(refusalText).join('; ')}` };
  }
  return tolerance satisfies never;
}

/** The number with two figures, never larger than it was: 6.47 gives 6.4. */
export function roundedDown(value: number): number {
  if (!(value > 0) || !Number.isFinite(value)) return 0;
  const step = 10 ** (Math.floor(Math.log10(value)) - 1);
  // The hair keeps a value that is itself two figures long from falling to the next below.
  return Number((Math.floor(value / step + 1e-6) * step).toPrecision(2));
}

const PLACES: readonly ToleranceOf[] = ['height', 'side', 'forward'];

function amountWords({ of, amount, unit }: PlusMinus): { readonly text: string; readonly fine: boolean } {
  const within = (value: number, words: string): string => `± ${plainNumber(roundedDown(value))}${words}`;
  if (PLACES.includes(of)) return { text: placeWords(amount, within), fine: amount < READ_TO.mm };
  switch (unit) {
    case 'mm': return { text: within(amount, ' mm'), fine: false };
    case '°': return { text: within(amount, '°'), fine: of !== 'shutter' && amount < READ_TO.degrees };
    case 'stops': return { text: within(amount, ' stop'), fine: false };
    case 'density': return { text: within(amount, ' density'), fine: false };
    case 'EI': return { text: within(amount, ''), fine: false };
  }
  return unit satisfies never;
}

/** In cm, as heights are taped; a hair's breadth in mm, a wide berth in m. */
function placeWords(mm: number, within: (value: number, words: string) => string): string {
  if (mm < 1) return within(mm, ' mm');
  return mm < 1000 ? within(mm / 10, ' cm') : within(mm / 1000, ' m');
}

/** The tighter way of the two; a focus at infinity has only one. */
function focusWords({ nearestM, farthestM }: FocusTolerance, setAt: number | undefined): string {
  if (setAt === undefined || !Number.isFinite(setAt)) return `not nearer than ${plainNumber(roundedUp(nearestM))} m`;
  const near = setAt - nearestM;
  const gap = farthestM === 'infinity' ? near : Math.min(near, farthestM - setAt);
  return gap >= 1 ? `± ${plainNumber(roundedDown(gap))} m` : `± ${plainNumber(roundedDown(gap * 100))} cm`;
}

function roundedUp(value: number): number {
  const step = 10 ** (Math.floor(Math.log10(value)) - 2);
  return Number((Math.ceil(value / step - 1e-6) * step).toPrecision(3));
}

/** Two figures written out, however small. */
function plainNumber(value: number): string {
  return numberWords(value, value >= 0.1 ? 3 : 9);
}
