/**
 * What a cell says: a value (`assumed` tells what was taken for granted, to be printed), nothing at all (empty, "--", "n.a.",
 * a maker's code for "not available"), or something that is no such value (`expected` completes "expected …").
 */
export type Reading<T> =
  | { readonly kind: 'value'; readonly value: T; readonly assumed?: string }
  | { readonly kind: 'blank' }
  | { readonly kind: 'unreadable'; readonly expected: string };

export const BLANK = { kind: 'blank' } as const;

export function valueOf<T>(value: T, assumed?: string): Reading<T> {
  return assumed === undefined ? { kind: 'value', value } : { kind: 'value', value, assumed };
}

export function unreadable(expected: string): { readonly kind: 'unreadable'; readonly expected: string } {
  return { kind: 'unreadable', expected };
}
