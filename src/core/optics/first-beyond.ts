/** Halvings at most; a millionth is reached sooner unless the amount is next to nothing. */
const STEPS = 60;
const CLOSE_ENOUGH = 1e-6;

/** The largest amount up to `most` at which a limit still holds, to a millionth; undefined when it holds throughout. */
export function firstBeyond(isBeyond: (amount: number) => boolean, most: number): number | undefined {
  if (!isBeyond(most)) return undefined;
  let [within, beyond] = [0, most];
  for (let step = 0; step < STEPS && beyond - within > CLOSE_ENOUGH * beyond; step += 1) {
    const middle = (within + beyond) / 2;
    if (isBeyond(middle)) beyond = middle;
    else within = middle;
  }
  return within;
}
