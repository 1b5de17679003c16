type Present<T> = T extends unknown ? { [K in keyof T]: Exclude<T[K], undefined> } : never;

/** Absent means absent: zod leaves out an optional key that was not written, which its types do not say. */
export function present<T extends object>(written: T): Present<T> {
  return written as Present<T>;
}
