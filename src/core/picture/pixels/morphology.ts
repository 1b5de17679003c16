/** Pixels from the middle, each way, that a square takes in: -1 to 1 is 3 x 3, 0 to 1 is 2 x 2. */
export interface Square {
  readonly from: number;
  readonly to: number;
}

/** Marks every pixel that has a marked one within the square round it. */
export function dilate(mask: Uint8Array, width: number, square: Square): Uint8Array {
  return spreadAcross(spreadAcross(mask, width, square, 1), width, square, width);
}

/** Keeps only pixels whose whole square is marked; beyond the frame everything counts as marked. */
export function erode(mask: Uint8Array, width: number, square: Square): Uint8Array {
  return inverted(dilate(inverted(mask), width, square));
}

/** Takes away specks that hold no 2 x 2 square, then fills gaps up to two pixels wide. */
export function tidy(mask: Uint8Array, width: number): Uint8Array {
  const opened = dilate(erode(mask, width, { from: 0, to: 1 }), width, { from: -1, to: 0 });
  return erode(dilate(opened, width, { from: -1, to: 1 }), width, { from: -1, to: 1 });
}

/** Spreads along rows (`step` 1) or columns (`step` the width): from each marked pixel to those whose square reaches it. */
function spreadAcross(mask: Uint8Array, width: number, { from, to }: Square, step: number): Uint8Array {
  const out = new Uint8Array(mask.length);
  const inRow = step === 1;
  for (let row = 0; row < mask.length; row += width) {
    const [least, most] = inRow ? [row, row + width] : [0, mask.length];
    for (let at = row; at < row + width; at++) {
      if (mask[at] === 0) continue;
      for (let k = from; k <= to; k++) {
        const reached = at - k * step;
        if (reached >= least && reached < most) out[reached] = 1;
      }
    }
  }
  return out;
}

function inverted(mask: Uint8Array): Uint8Array {
  return mask.map((value) => 1 - value);
}
