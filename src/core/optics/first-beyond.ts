/** The largest amount up to `most` at which the limit still holds; undefined when it holds throughout. Halved 60 times: exact to a double. */
export function firstBeyond(isBeyond: (amount: number) => boolean, most: number): number | undefined {
  if (!isBeyond(most)) return undefined;
  let [within, beyond] = [0, most];
  for (let step = 0; step < 60; step += 1) {
    const middle = (within + beyond) / 2;
    if (isBeyond(middle)) beyond = middle;
    else within = middle;
  }
  return within;
}
