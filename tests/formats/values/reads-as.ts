import { expect, it } from 'vitest';
import type { Reading } from '../../../src/formats/values/reading.ts';
import type { CellUnit } from '../../../src/formats/values/unit.ts';

type Reader<T> = (text: string, unit?: CellUnit) => Reading<T>;

/** One test a case: the text, the value it reads as, and the heading's unit when the case needs one. */
export function readsAs<T>(read: Reader<T>, cases: readonly (readonly [text: string, value: T, unit?: CellUnit])[]): void {
  it.each(cases.map(([text, value, unit]) => ({ text, value, unit })))('$text reads as $value', ({ text, value, unit }) => {
    expect(read(text, unit)).toEqual({ kind: 'value', value });
  });
}

/** One test a case: the text reads as the value, with an assumption to print. */
export function readsByAssumption<T>(read: Reader<T>, cases: readonly (readonly [text: string, value: T])[]): void {
  it.each(cases)('%j reads as %j by an assumption that is told', (text, value) => {
    expect(read(text)).toEqual({ kind: 'value', value, assumed: expect.stringMatching(/taken as/) });
  });
}

/** One test a case: the text says nothing, and that is no problem. */
export function saysNothing<T>(read: Reader<T>, texts: readonly string[]): void {
  it.each(texts.map((text) => [text]))('%j says nothing', (text) => {
    expect(read(text)).toEqual({ kind: 'blank' });
  });
}

/** One test a case: the text is refused, with what was expected. */
export function refuses<T>(read: Reader<T>, texts: readonly string[]): void {
  it.each(texts.map((text) => [text]))('%j is refused', (text) => {
    expect(read(text)).toEqual({ kind: 'unreadable', expected: expect.stringMatching(/\w/) });
  });
}
