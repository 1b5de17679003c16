import { nominalBase } from '../../core/timecode/rate.ts';
import { parseDecimal, tidy } from '../values/number.ts';
import { plainText } from '../values/plain.ts';
import { readRate } from '../values/rate.ts';
import { fullStop } from '../values/stop.ts';
import { unitOfWord } from '../values/unit.ts';
import { isUnknown } from '../values/unknown.ts';

/**
 * A maker's way to code a value, rewritten as people write it, so that one reader a field serves every camera. `rewrite` gets
 * the coded text and that of the mapping's `with` path; it answers "" for the code of "not available" and undefined for what
 * it does not know.
 */
export interface CodedReading {
  readonly expected: string;
  readonly rewrite: (text: string, companion: string) => string | undefined;
}

/** The names a mapping may use as `reading`. Codings without a published source were worked out from real exports. */
export const READINGS: Readonly<Record<string, CodedReading>> = {
  'stop-plus-tenths': { expected: 'a full stop and tenths of a stop such as T 2 3/10', rewrite: stopPlusTenths },
  'linear-iris': { expected: 'a linear iris code such as 2667', rewrite: linearIris },
  'stop-scale-unsure': { expected: 'a stop such as F5.6', rewrite: (text) => text.replace(/^[TtFf][/ ]?/, '') },
  'cooke-t': { expected: 'lens data bytes such as 64/40/40/46/68/48/70', rewrite: cookeStop },
  'rational-stop-by-mode': { expected: 'a fraction such as 45/10 with mode 1 (f) or 2 (T)', rewrite: rationalStop },
  rational: { expected: 'a fraction such as 180/10', rewrite: (text) => rational(text) },
  'rational-angle-by-mode': { expected: 'a fraction such as 18000/100 with mode 2 (an angle)', rewrite: (text, mode) => (mode === '2' ? suffixed(rational(text), '°') : undefined) },
  'rational-offset-31': { expected: 'a fraction such as 2147485248/1', rewrite: (text) => rational(text, 0x8000_0000) },
  'hex-float': { expected: 'a 32-bit float as eight hex digits such as 3F000000', rewrite: hexFloat },
  'sixteen-sixteen': { expected: 'a 16.16 fixed-point number such as 1572864', rewrite: (text) => dividedBy(text, 65_536) },
  'num-den-list': { expected: 'two numbers such as 48,1,', rewrite: (text) => /^(\d+),(\d+),?$/.exec(text)?.slice(1, 3).join('/') },
  'minutes-of-arc': { expected: 'an angle in minutes such as 10380', rewrite: (text) => suffixed(dividedBy(text, 60), '°') },
  percent: { expected: 'a percentage such as 100', rewrite: (text) => (/^\d/.test(text) ? `${text.replace(/ ?%$/, '')}%` : undefined) },
  'squeeze-code': { expected: 'a squeeze code 0 to 3', rewrite: (text) => (text === '255' ? '' : ['1', '1.33', '2', '1.8'][/^\d$/.test(text) ? Number(text) : -1]) },
  'when-enabled': { expected: 'a squeeze such as 2x and whether it is on', rewrite: (text, on) => (on === '0' || /^(?:false|no|off)$/i.test(on) ? '1' : text) },
  transmittance: { expected: 'the light let through, 1 for clear', rewrite: transmittance },
  u16: { expected: 'a number from 0 to 65534', rewrite: (text) => (text === '65535' ? '' : text) },
  'u8-centred': { expected: 'a number from 0 to 254 with 128 for none', rewrite: (text) => (text === '255' ? '' : /^\d{1,3}$/.test(text) ? String(Number(text) - 128) : undefined) },
  'bcd-reversed-tc': { expected: 'eight digits: frames, seconds, minutes, hours', rewrite: bcdReversedTimecode },
  'timecode-base': { expected: 'labels a second such as 24', rewrite: timecodeBase },
  'unit-column': { expected: 'a number and a known unit in the column of units', rewrite: withUnitColumn },
  'by-type': { expected: 'a shutter with its type (angle or speed)', rewrite: shutterByType },
  'width-height': { expected: 'a width and a height in pixels', rewrite: (width, height) => (isUnknown(height) ? '' : `${width}x${height}`) },
  'unless-equal': { expected: 'a value of its own', rewrite: (text, other) => (text === other ? '' : text) },
  'serial-when-digits': { expected: 'a serial number', rewrite: (text) => (isSerial(text) ? text : '') },
  'name-unless-digits': { expected: 'a name', rewrite: (text) => (isSerial(text) ? '' : text) },
  'iso-as-note': { expected: 'an ISO sensitivity', rewrite: (text) => `ISO sensitivity ${text} (the camera's own, not the exposure index)` },
};

/** A coded value as people write it; `expected` when it is not of that coding. Without a reading the text stands as it is. */
export function rewriteCoded(text: string, reading: string | undefined, companion: string): { readonly text: string } | { readonly expected: string } {
  const plain = plainText(text);
  if (reading === undefined || isUnknown(plain)) return { text };
  const coded = Object.hasOwn(READINGS, reading) ? READINGS[reading] : undefined;
  if (coded === undefined) return { expected: `a reading that gemel knows, not "${reading}"` };
  const rewritten = coded.rewrite(plain, plainText(companion));
  return rewritten === undefined ? { expected: coded.expected } : { text: rewritten };
}

/** Full stop and tenths. A base that is no full stop (T 6) may be an APEX value or a stop: two numbers far apart, so neither is taken. */
function stopPlusTenths(text: string): string | undefined {
  const [, letter, base, tenths] = /^([TF]?) ?([\d.]+)(?: ?\+? ?(\d{1,2}\/10))?$/i.exec(text) ?? [];
  if (base === undefined || fullStop(Number(base)) === undefined) return undefined;
  return `${letter ?? ''}${base}${tenths === undefined ? '' : ` ${tenths}`}`;
}

/** T = 2 to the power of (code − 1000) / 2000. */
function linearIris(text: string): string | undefined {
  const code = /^\d{1,5}$/.test(text) ? Number(text) : undefined;
  if (code === 0) return '';
  return code === undefined || code > 17_000 ? undefined : `T${tidy(2 ** ((code - 1000) / 2000))}`;
}

/** Hundredths of a T-stop in the low six bits of bytes 5 and 6 (from 0). */
function cookeStop(text: string): string | undefined {
  const bytes = text.split('/').map((byte) => (/^[0-9a-f]{2}$/i.test(byte) ? Number.parseInt(byte, 16) : undefined));
  const [high, low] = [bytes[5], bytes[6]];
  if (high === undefined || low === undefined) return undefined;
  const hundredths = ((high & 63) << 6) + (low & 63);
  return hundredths === 0 ? '' : `T${hundredths / 100}`;
}

function rational(text: string, offset = 0): string | undefined {
  const [, over, under] = /^(-?\d{1,10})\/(\d{1,10})$/.exec(text) ?? [];
  if (over === undefined || under === undefined) return undefined;
  if (Number(under) === 0) return '';
  const numerator = Number(over) >= offset ? Number(over) - offset : Number(over);
  return decimalText(numerator / Number(under));
}

function rationalStop(text: string, mode: string): string | undefined {
  const number = rational(text);
  return number === '' ? '' : mode === '2' ? suffixed(number, '', 'T') : mode === '1' ? suffixed(number, '', 'f/') : undefined;
}

function hexFloat(text: string): string | undefined {
  if (!/^[0-9a-f]{8}$/i.test(text)) return undefined;
  const view = new DataView(new ArrayBuffer(4));
  view.setUint32(0, Number.parseInt(text, 16));
  const value = view.getFloat32(0);
  if (Number.isNaN(value)) return '';
  return value === Infinity ? 'inf' : decimalText(value);
}

function dividedBy(text: string, divisor: number): string | undefined {
  const number = parseDecimal(text);
  return number === undefined ? undefined : decimalText(number / divisor);
}

/** Digits without exponent, to nine places. */
function decimalText(value: number): string | undefined {
  return Math.abs(value) < 1e12 ? value.toFixed(9).replace(/\.?0+$/, '').replace(/^-0$/, '0') : undefined;
}

function suffixed(text: string | undefined, unit: string, before = ''): string | undefined {
  return text === undefined || text === '' ? text : `${before}${text}${unit}`;
}

function transmittance(text: string): string | undefined {
  if (/^1(?:\.0+)?(?:\/1)?$/.test(text)) return 'clear';
  const [, under] = /^1\/(\d{1,6})$/.exec(text) ?? [];
  if (under !== undefined) return `ND 1/${under}`;
  const through = parseDecimal(text);
  return through !== undefined && through > 0 && through < 1 ? `ND 1/${Math.round(1 / through)}` : undefined;
}

/** Bytes are frames, seconds, minutes, hours in BCD, with the flags of ST 12-1 above the tens (0x40 of the frames is drop frame). */
function bcdReversedTimecode(text: string): string | undefined {
  if (!/^[0-9a-f]{8}$/i.test(text)) return undefined;
  const [frames = 0, seconds = 0, minutes = 0, hours = 0] = [0, 2, 4, 6].map((at) => Number.parseInt(text.slice(at, at + 2), 16));
  const two = (byte: number, mask: number): string => ((byte & mask) >> 4).toString(16) + (byte & 15).toString(16);
  return `${two(hours, 0x3f)}:${two(minutes, 0x7f)}:${two(seconds, 0x7f)}${(frames & 0x40) === 0 ? ':' : ';'}${two(frames, 0x3f)}`;
}

/** Exports round the timecode's rate to whole labels: 24 beside a file at 23.976 counts at 23.976. */
function timecodeBase(text: string, fileRate: string): string {
  const [base, file] = [readRate(text), readRate(fileRate)];
  if (base.kind !== 'value' || file.kind !== 'value') return text;
  return nominalBase(base.value.rate) === nominalBase(file.value.rate) ? fileRate : text;
}

function withUnitColumn(text: string, unitText: string): string | undefined {
  const unit = unitOfWord(unitText);
  return unit === undefined ? undefined : `${text} ${unit}`;
}

function shutterByType(text: string, type: string): string | undefined {
  if (!/^[\d.,]+$/.test(text)) return text;
  if (/angle/i.test(type)) return `${text}°`;
  return /speed|time/i.test(type) ? `1/${text}` : undefined;
}

function isSerial(text: string): boolean {
  return /^[\d.]+$/.test(text);
}
