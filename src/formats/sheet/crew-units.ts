import { numberWords } from './value-words.ts';

const QUARTERS = ['', '¼', '½', '¾'] as const;
/** From here on a tape is read to the inch, m (10 feet). */
const TO_THE_INCH_M = 3.048;

/** Feet and inches as a tape is read: to the quarter inch below ten feet, to the inch beyond. "6′ 10¾″" */
export function feetWords(metres: number): string {
  if (!Number.isFinite(metres)) return numberWords(metres, 0);
  const size = Math.abs(metres);
  const parts = size < TO_THE_INCH_M ? 4 : 1;
  const count = Math.round((size / 0.0254) * parts);
  const inches = Math.floor(count / parts);
  const quarter = parts === 4 ? (QUARTERS[count % 4] ?? '') : '';
  return `${metres < 0 && count > 0 ? '−' : ''}${Math.floor(inches / 12)}′ ${inches % 12}${quarter}″`;
}

/** "142 cm": a height as it is taped. */
export function centimetreWords(metres: number): string {
  return `${numberWords(metres * 100, 1)} cm`;
}

/** "2.35 m", to the centimetre below 10 m and to the decimetre beyond; "∞". */
export function tapeWords(metres: number | 'infinity'): string {
  return metres === 'infinity' || !Number.isFinite(metres) ? '∞' : `${numberWords(metres, metres < 10 ? 2 : 1)} m`;
}

/** What is sharp: "sharp 1.98 m to 2.23 m (6′ 6″ to 7′ 3¾″)". */
export function sharpWords({ nearM, farM }: { readonly nearM: number; readonly farM: number | 'infinity' }): string {
  return `sharp ${tapeWords(nearM)} to ${tapeWords(farM)} (${feetWords(nearM)} to ${farM === 'infinity' ? '∞' : feetWords(farM)})`;
}
