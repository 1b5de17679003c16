const FAR = 1e12;

/**
 * How far each pixel lies from the nearest marked one, in pixels, exactly; `limit` where nothing is marked or it is farther.
 * Two passes of lower envelopes of parabolas: Felzenszwalb & Huttenlocher, "Distance transforms of sampled functions", 2012.
 */
export function distanceToMarked(marked: Uint8Array, width: number, height: number, limit: number, out = new Float32Array(width * height)): Float32Array {
  columnDistances(marked, width, height, out);
  const room = new Envelope(width);
  const row = new Float64Array(width);
  const most = limit * limit;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const d = out[y * width + x] ?? 0;
      row[x] = d >= height ? FAR : d * d;
    }
    room.along(row);
    for (let x = 0; x < width; x++) out[y * width + x] = Math.sqrt(Math.min(row[x] ?? 0, most));
  }
  return out;
}

/** Along one column the squared distance needs no envelope: count from the marked pixel above, then from the one below. */
function columnDistances(marked: Uint8Array, width: number, height: number, out: Float32Array): void {
  for (let x = 0; x < width; x++) out[x] = marked[x] === 0 ? height : 0;
  for (let i = width; i < width * height; i++) out[i] = marked[i] === 0 ? Math.min((out[i - width] ?? 0) + 1, height) : 0;
  for (let i = width * (height - 1) - 1; i >= 0; i--) out[i] = Math.min(out[i] ?? 0, (out[i + width] ?? 0) + 1);
}

class Envelope {
  readonly #vertex: Int32Array;
  readonly #from: Float64Array;
  readonly #source: Float64Array;

  constructor(length: number) {
    this.#vertex = new Int32Array(length);
    this.#from = new Float64Array(length + 1);
    this.#source = new Float64Array(length);
  }

  /** Replaces each value f(q) by the least of (q - p)² + f(p) over all p. */
  along(values: Float64Array): void {
    const [vertex, from, f] = [this.#vertex, this.#from, this.#source];
    f.set(values);
    let top = 0;
    vertex[0] = 0;
    from[0] = -Infinity;
    from[1] = Infinity;
    for (let q = 1; q < f.length; q++) {
      let meet = crossing(f, q, vertex[top] ?? 0);
      while (meet <= (from[top] ?? 0)) meet = crossing(f, q, vertex[--top] ?? 0);
      vertex[++top] = q;
      from[top] = meet;
      from[top + 1] = Infinity;
    }
    let k = 0;
    for (let q = 0; q < f.length; q++) {
      while ((from[k + 1] ?? Infinity) < q) k++;
      const p = vertex[k] ?? 0;
      values[q] = (q - p) * (q - p) + (f[p] ?? 0);
    }
  }
}

/** Where the parabola of q falls below that of p. */
function crossing(f: Float64Array, q: number, p: number): number {
  return ((f[q] ?? 0) + q * q - ((f[p] ?? 0) + p * p)) / (2 * (q - p));
}
