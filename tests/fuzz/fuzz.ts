import fc from 'fast-check';
import { expect } from 'vitest';

/**
 * Runs of a property: the same ones every time, so that a red test is a change's own; `FUZZ_RUNS=50` in the environment makes them
 * fifty times as many and different ones each time, for a night by hand.
 */
export function runs(usual: number): { readonly numRuns: number; readonly seed?: number } {
  const times = process.env['FUZZ_RUNS'];
  return times === undefined ? { numRuns: usual, seed: 27 } : { numRuns: Math.max(1, Math.round(usual * Number(times))) };
}

/** A test may last as long as its runs were multiplied. */
export const PATIENCE_MS = 60_000 * Math.max(1, Number(process.env['FUZZ_RUNS'] ?? 1));

/** Processor time of this process in ms: other work on the machine does not count, unlike by the clock. */
function cpuMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/** What a parser may cost: processor time, and how much it may make of what it is given. */
export interface Bounds {
  readonly ms: number;
  /** Values and letters in the answer for each letter or byte of the input, beyond a first 20,000. */
  readonly growth: number;
}

const BOUNDS: Bounds = { ms: 3000, growth: 100 };

/**
 * Holds one parse to what every parser promises: it answers, or throws an error of the classes it documents; in good time; with no
 * more than its input accounts for; and with no number that is none.
 */
export async function survives<I extends string | Uint8Array>(parse: (input: I) => unknown, input: I, refusals: readonly (abstract new (...args: never[]) => Error)[] = [], bounds: Bounds = BOUNDS): Promise<void> {
  const before = cpuMs();
  let answer: unknown;
  try {
    answer = await parse(input);
  } catch (failure) {
    if (!(failure instanceof Error) || !refusals.some((refusal) => failure instanceof refusal)) throw failure;
    expect(failure.message.length, 'length of the message').toBeLessThan(20_000);
  }
  expect(cpuMs() - before, `ms for ${input.length} letters`).toBeLessThan(bounds.ms);
  expect(weigh(answer), `answer to ${input.length} letters`).toBeLessThan(20_000 + bounds.growth * input.length);
}

/** Letters and values in an answer, each counted as often as it is reached. @throws at NaN, which no answer may hold. */
export function weigh(answer: unknown): number {
  let weight = 0;
  const waiting: unknown[] = [answer];
  while (waiting.length > 0) {
    const value = waiting.pop();
    weight += 1;
    if (typeof value === 'string') weight += value.length;
    else if (typeof value === 'number') {
      if (Number.isNaN(value)) throw new Error('NaN in the answer');
    } else if (value instanceof Uint8Array) weight += value.length;
    else if (value instanceof Map || value instanceof Set) waiting.push(...value);
    else if (typeof value === 'object' && value !== null) for (const part of Object.values(value)) waiting.push(part);
  }
  return weight;
}

/** Places in a value where a number stands that JSON does not have. */
export function unsoundNumbers(value: unknown, path = ''): readonly string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [`${path}: ${value}`];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, part]) => unsoundNumbers(part, `${path}/${key}`));
}

/** Words that mean something to one format or another, and numbers at the edges of all. */
const TOKENS = [
  '', '\0', '\u001b[2J', '\u202e', '\ufeff', '\ud800', '\u2028', '"', '""', "'", '\\', '\\"', '<', '</', '<!--', '<![CDATA[', '<!DOCTYPE x [<!ENTITY a "b">]>', '&#0;', '&#x110000;', '&lol;',
  '{', '}', '[', ']', ',', ':', ';', '\t', '\r', '\n', '\r\n', '- ', '? ', '&a ', '*a', '!!binary ', '<<: ', '__proto__', 'constructor', '../', '..\\', '/', '//', 'C:\\', 'http://a/', '%s', '%00', '`', '$(x)',
  'null', 'true', 'NaN', 'Infinity', '-Infinity', '1e999', '-1e999', '1e-999', '0', '-0', '00', '-1', '0.5', '9007199254740993', '99999999999999999999', '1/0', '0/0', '99:99:99:99', '23:59:59;29', '=1+1', '@SUM(A1)',
];

const place = fc.double({ min: 0, max: 1, noNaN: true });
const edit = fc.record({ kind: fc.constantFrom('delete', 'insert', 'pump', 'number', 'swap', 'cut', 'flip'), at: place, to: place, token: fc.constantFrom(...TOKENS), times: fc.constantFrom(2, 10, 200, 3000) });

/** Whole texts with a few edits that know how texts are built: words of other formats, numbers at the edge, pieces said thousands of times. */
export function spoiledText(samples: readonly string[], longest = 60_000): fc.Arbitrary<string> {
  return fc.record({ sample: fc.constantFrom(...samples), edits: fc.array(edit, { minLength: 1, maxLength: 5 }) }).map(({ sample, edits }) => {
    let text = sample;
    for (const { kind, at, to, token, times } of edits) {
      const [start, end] = [Math.min(at, to), Math.max(at, to)].map((part) => Math.floor(part * text.length)) as [number, number];
      switch (kind) {
        case 'delete': text = text.slice(0, start) + text.slice(end); break;
        case 'insert': text = text.slice(0, start) + token + text.slice(start); break;
        case 'pump': text = text.slice(0, start) + text.slice(start, Math.min(end, start + 40)).repeat(times) + text.slice(end); break;
        case 'number': text = replaceNumber(text, start, token); break;
        case 'swap': text = text.slice(end) + text.slice(start, end) + text.slice(0, start); break;
        case 'cut': text = text.slice(0, start); break;
        default: text = text.slice(0, start) + String.fromCharCode(text.charCodeAt(start) ^ (1 << (times % 8))) + text.slice(start + 1);
      }
      text = text.slice(0, longest);
    }
    return text;
  });
}

function replaceNumber(text: string, from: number, token: string): string {
  const found = /-?\d+(?:\.\d+)?/u.exec(text.slice(from, from + 500));
  return found === null ? text : text.slice(0, from + found.index) + token + text.slice(from + found.index + found[0].length);
}

/** One short piece said so often that whoever reads it again from each of its letters will be found out. */
export function pumpedText(pieces: readonly string[], length = 60_000): fc.Arbitrary<string> {
  const piece = fc.oneof(fc.constantFrom(...TOKENS.filter((token) => token !== ''), ' ', 'a', '1', '#', '(', ')', '.', '*', '+'), fc.constantFrom(...pieces), fc.string({ minLength: 1, maxLength: 4 }));
  return fc.record({ before: fc.constantFrom('', ...pieces), piece, after: fc.constantFrom('', 'x', '!', '\n', '"', ...pieces) }).map(({ before, piece: said, after }) => before + said.repeat(Math.ceil(length / said.length)) + after);
}

const EXTREMES = [0n, 1n, 0x7fn, 0x80n, 0xffn, 0x7fffn, 0xffffn, 0x7fff_ffffn, 0x8000_0000n, 0xffff_ffffn, 0x7fff_ffff_ffff_ffffn, 0xffff_ffff_ffff_ffffn, 0x001f_ffff_ffff_ffffn];
const change = fc.record({ kind: fc.constantFrom('length', 'flip', 'delete', 'double', 'cut', 'fill'), at: place, to: place, width: fc.constantFrom(1, 2, 4, 8), little: fc.boolean(), extreme: fc.constantFrom(...EXTREMES) });

/** Whole files with a few changes: fields of every width set to extremes, bits turned, pieces taken out, doubled, cut off. */
export function spoiledBytes(samples: readonly Uint8Array[], longest = 60_000): fc.Arbitrary<Uint8Array> {
  return fc.record({ sample: fc.constantFrom(...samples), changes: fc.array(change, { minLength: 1, maxLength: 6 }) }).map(({ sample, changes }) => {
    let content = Uint8Array.from(sample);
    for (const { kind, at, to, width, little, extreme } of changes) {
      const [start, end] = [Math.min(at, to), Math.max(at, to)].map((part) => Math.floor(part * content.length)) as [number, number];
      switch (kind) {
        case 'length': for (let byte = 0; byte < width && start + byte < content.length; byte += 1) content[start + byte] = Number((extreme >> BigInt(8 * (little ? byte : width - 1 - byte))) & 0xffn); break;
        case 'flip': if (content.length > 0) content[start] = (content[start] ?? 0) ^ (1 << (width - 1)); break;
        case 'delete': content = joined(content.subarray(0, start), content.subarray(Math.min(end, start + 64))); break;
        case 'double': content = joined(content.subarray(0, end), content.subarray(start)); break;
        case 'cut': content = content.slice(0, end); break;
        default: content.fill(Number(extreme & 0xffn), start, Math.min(end, start + 256));
      }
      content = content.subarray(0, longest);
    }
    return content;
  });
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array<ArrayBuffer> {
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}
