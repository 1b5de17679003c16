import type { Filters, Raster, Stop } from '../../core/material/statement.ts';

/** A number to at most `digits` decimals, without trailing zeros, with a true minus sign. */
export function numberWords(value: number, digits: number): string {
  if (Number.isNaN(value)) return 'not a number';
  if (!Number.isFinite(value)) return value > 0 ? '∞' : '−∞';
  const rounded = String(Number(Math.abs(value).toFixed(digits)));
  return value < 0 && rounded !== '0' ? `−${rounded}` : rounded;
}

/** A difference with its sign and unit: "+50 mm", "−0.1°"; "=" when it rounds to nothing. */
export function differenceWords(value: number, digits: number, unit: string): string {
  const number = numberWords(value, digits);
  if (number === '0') return '=';
  if (unit === '°' || unit === '%') return `${value > 0 ? '+' : ''}${number}${unit}`;
  return `${value > 0 ? '+' : ''}${number} ${number === '1' || number === '−1' ? unit.replace(/^stops$/, 'stop') : unit}`;
}

/** "3.2 m (10′ 6″)": metres, and feet and inches for the tape that carries them. */
export function metresWords(metres: number): string {
  if (!Number.isFinite(metres)) return numberWords(metres, 2);
  const inches = Math.round(Math.abs(metres) / 0.0254);
  return `${numberWords(metres, 3)} m (${metres < 0 ? '−' : ''}${Math.floor(inches / 12)}′ ${inches % 12}″)`;
}

/** "T2.8", "f/4", or "2.8 (scale not named)". */
export function stopWords({ kind, number }: Stop): string {
  const value = numberWords(number, 2);
  if (kind === 'unknown') return `${value} (scale not named)`;
  return kind === 'T' ? `T${value}` : `f/${value}`;
}

/** Filters as written, with the sum of neutral density when it could be read. */
export function filterWords({ text, ndDensity }: Filters): string {
  if (ndDensity === undefined || ndDensity === 0) return text;
  return `${text} (ND ${numberWords(ndDensity, 2)} in all)`;
}

/** "4096 × 2160". */
export function rasterWords({ width, height }: Raster): string {
  return `${width} × ${height}`;
}
