/**
 * What the board says, taken apart. `scene` is "27", `setUp` "B" ("" when the slate names none), `take` 3.
 * Running slate numbers are the set-up, with no scene: `scene` "" and `setUp` "214".
 * `suffix` is what the slate carries for the pass ("SW", "CP"), `prefix` a VFX or unit prefix; `text` is what was written.
 */
export interface Slate {
  readonly scene: string;
  readonly setUp: string;
  readonly take?: number;
  readonly pickUp: boolean;
  readonly series: boolean;
  readonly prefix: string;
  readonly suffix: string;
  readonly text: string;
}

/** The set-up a slate belongs to, as a key: scene and set-up, prefix kept, take and suffix left out ("27B", "214"). */
export function setUpKey(slate: Slate): string {
  return `${slate.prefix}${slate.scene}${slate.setUp}`.toUpperCase();
}
