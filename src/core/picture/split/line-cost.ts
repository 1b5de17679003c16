import { gradient } from '../pixels/gradient.ts';
import { quantile } from '../pixels/order.ts';
import type { Still } from './still.ts';

/** Nearer to anything that moves than this, a line costs more: room for a soft edge. Pixels of the proxy. */
export const EASY_CLEARANCE = 6;
/** What a step aside costs: lines run straight unless there is a reason. */
export const STEP_ASIDE = 0.05;
/** Rows over which an upright edge must hold to count as one: a tenth of the picture, as a door frame easily does. */
const EDGE_ROWS_EACH_WAY = 10;

/**
 * What a line costs at each pixel before clearance is weighed: dear where the passes ever differed, cheap along upright edges,
 * such as a door frame, which hide a join.
 */
export function groundCost(still: Still, worst: Float32Array): Float32Array {
  const upright = uprightEdges(still);
  const spread = Math.max(still.spread, 0.05);
  return upright.map((edge, i) => {
    const noise = Math.min((worst[i] ?? 0) / spread, 8);
    return 0.02 * noise * noise + 0.6 * (1 - edge);
  });
}

/** What too little clearance costs. */
export function crowdCost(clearance: number): number {
  const lack = Math.max(0, 1 - clearance / EASY_CLEARANCE);
  return lack * lack;
}

/** 0..1: how strongly the picture changes across, held over many rows. */
export function uprightEdges({ width, height, values }: Pick<Still, 'width' | 'height' | 'values'>): Float32Array {
  const across = gradient({ width, height, values }).across;
  const mean = new Float32Array(width * height);
  for (let x = 0; x < width; x++) {
    let sum = 0;
    let count = 0;
    for (let y = -EDGE_ROWS_EACH_WAY; y < height; y++) {
      const enters = y + EDGE_ROWS_EACH_WAY;
      const leaves = y - EDGE_ROWS_EACH_WAY - 1;
      if (enters < height) [sum, count] = [sum + Math.abs(across[enters * width + x] ?? 0), count + 1];
      if (leaves >= 0) [sum, count] = [sum - Math.abs(across[leaves * width + x] ?? 0), count - 1];
      if (y >= 0) mean[y * width + x] = sum / count;
    }
  }
  const strong = Math.max(quantile(mean, 0.99), 1e-6);
  return mean.map((edge) => Math.min(1, edge / strong));
}
