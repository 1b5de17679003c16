/** The units a heading, a unit column or a mapping can name. `nd` marks a column of neutral densities, `T` and `f` the scale of a stop. */
export type CellUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft' | 'deg' | 'K' | 's' | 'ms' | '1/s' | '%' | 'T' | 'f' | 'nd' | 'fps' | 'EI' | 'px' | 'frames';

const WORDS: Readonly<Record<string, CellUnit>> = {
  mm: 'mm', millimetre: 'mm', millimetres: 'mm', millimeter: 'mm', millimeters: 'mm',
  cm: 'cm', centimetre: 'cm', centimetres: 'cm', centimeter: 'cm', centimeters: 'cm',
  m: 'm', mtr: 'm', metre: 'm', metres: 'm', meter: 'm', meters: 'm', metric: 'm',
  in: 'in', inch: 'in', inches: 'in', '"': 'in',
  ft: 'ft', foot: 'ft', feet: 'ft', "'": 'ft', imperial: 'ft',
  '°': 'deg', deg: 'deg', degs: 'deg', degree: 'deg', degrees: 'deg', angle: 'deg',
  k: 'K', kelvin: 'K', '°k': 'K',
  s: 's', sec: 's', secs: 's', second: 's', seconds: 's',
  ms: 'ms', msec: 'ms', milliseconds: 'ms',
  '1/s': '1/s', '1/sec': '1/s', '1/second': '1/s',
  '%': '%', percent: '%',
  t: 'T', f: 'f', nd: 'nd', fps: 'fps', 'f/s': 'fps', hz: 'fps',
  ei: 'EI', iso: 'EI', asa: 'EI', px: 'px', pixel: 'px', pixels: 'px', frames: 'frames', fr: 'frames',
};

/** The unit a word stands for; undefined when it is no unit. */
export function unitOfWord(word: string): CellUnit | undefined {
  const plain = word.trim().toLowerCase().replace(/\.$/, '');
  return Object.hasOwn(WORDS, plain) ? WORDS[plain] : undefined;
}
