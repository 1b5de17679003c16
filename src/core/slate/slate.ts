/**
 * What the board says, taken apart. `scene` is "27", `setUp` "B" ("" when the slate names none), `take` 3.
 * Running slate numbers are the set-up, with no scene: `scene` "" and `setUp` "214".
 * An inserted scene keeps its letter in front: "A27C" is scene "A27", set-up "C".
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

/**
 * The set-up a slate belongs to, as a key: scene and set-up, prefix kept, take and suffix left out ("27B", "214").
 * Numbered set-ups are kept apart from the scene: scene 27, set-up 2 is "27-2", never "272".
 */
export function setUpKey(slate: Slate): string {
  const apart = isNumbered(slate) ? '-' : '';
  return `${slate.prefix}${slate.scene}${apart}${slate.setUp}`.toUpperCase();
}

/** A slate as gemel writes it: `27B-3`, `27B-SW-3 PU`, `214-2`, `27 set-up 2-1`. Reading it back gives the same parts. */
export function formatSlate(slate: Slate): string {
  const board = isNumbered(slate) ? `${slate.prefix}${slate.scene} set-up ${slate.setUp}` : setUpKey(slate);
  const suffix = slate.suffix === '' ? '' : `-${slate.suffix}`;
  const take = slate.take === undefined ? '' : `-${slate.take}`;
  return `${board}${suffix}${take}${slate.pickUp ? ' PU' : ''}${slate.series ? ' SER' : ''}`;
}

function isNumbered({ scene, setUp }: Slate): boolean {
  return scene !== '' && /^\d/.test(setUp);
}
