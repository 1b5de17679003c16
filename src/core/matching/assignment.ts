/** One pair that is allowed, and its cost. Pairs that are not listed are forbidden. */
export interface PricedPair {
  readonly row: number;
  readonly column: number;
  readonly cost: number;
}

/** Rows and columns are counted from 0. Leaving any one row without a column costs `unmatchedPrice`. */
export interface AssignmentProblem {
  readonly rows: number;
  readonly columns: number;
  readonly pairs: readonly PricedPair[];
  readonly unmatchedPrice: number;
}

/**
 * The cheapest way to give each row at most one column and each column at most one row: for every row its column, undefined
 * where leaving it alone is cheaper or no pair is free. Exact; with whole-number costs also free of rounding. Among equally
 * cheap answers the order of rows and columns decides, so callers sort them by a key that does not change.
 *
 * Shortest augmenting paths with prices on rows and columns (Kuhn 1955, Munkres 1957, Jonker & Volgenant 1987), kept sparse:
 * n rows over E pairs take at most n searches of E log E, and a search looks no further than the price of giving up.
 */
export function assign(problem: AssignmentProblem): readonly (number | undefined)[] {
  const graph = layOut(problem);
  const state = freshState(problem.rows, problem.rows + problem.columns);
  for (let row = 0; row < problem.rows; row++) augment(graph, state, row);
  return Array.from(state.columnOf, (column) => (column < problem.columns ? column : undefined));
}

/** Pairs by row. Row r owns one more column, `columns + r`, that stands for "unmatched": so every search finds an end. */
interface Graph {
  /** Where the pairs of a row begin; one entry more than there are rows. */
  readonly firstPair: Int32Array;
  readonly target: Int32Array;
  readonly cost: Float64Array;
}

interface State {
  readonly columnOf: Int32Array;
  readonly rowOf: Int32Array;
  readonly rowPrice: Float64Array;
  readonly columnPrice: Float64Array;
  /** Of the search under way: cost of reaching a column, the row it was reached from, whether it is settled. */
  readonly distance: Float64Array;
  readonly reachedFrom: Int32Array;
  readonly settled: Uint8Array;
}

function layOut({ rows, columns, pairs, unmatchedPrice }: AssignmentProblem): Graph {
  const firstPair = new Int32Array(rows + 1);
  const at = (list: Int32Array, index: number): number => list[index] ?? 0;
  for (const { row } of pairs) firstPair[row + 1] = at(firstPair, row + 1) + 1;
  for (let row = 0; row < rows; row++) firstPair[row + 1] = at(firstPair, row + 1) + at(firstPair, row) + 1;
  const target = new Int32Array(pairs.length + rows);
  const cost = new Float64Array(pairs.length + rows);
  const next = firstPair.slice();
  const put = (row: number, column: number, price: number): void => {
    const slot = at(next, row);
    target[slot] = column;
    cost[slot] = price;
    next[row] = slot + 1;
  };
  for (const pair of pairs) put(pair.row, pair.column, pair.cost);
  for (let row = 0; row < rows; row++) put(row, columns + row, unmatchedPrice);
  return { firstPair, target, cost };
}

function freshState(rows: number, columns: number): State {
  return {
    columnOf: new Int32Array(rows).fill(-1),
    rowOf: new Int32Array(columns).fill(-1),
    rowPrice: new Float64Array(rows),
    columnPrice: new Float64Array(columns),
    distance: new Float64Array(columns).fill(Infinity),
    reachedFrom: new Int32Array(columns).fill(-1),
    settled: new Uint8Array(columns),
  };
}

/** Gives `start` a column along the cheapest path of swaps, then moves the prices so that no allowed pair is underpriced. */
function augment(graph: Graph, state: State, start: number): void {
  const { columnOf, rowOf, rowPrice, columnPrice, distance, reachedFrom, settled } = state;
  const queue: Queue = { keys: [], columns: [] };
  const touched: number[] = [];
  reach(graph, state, queue, touched, start, 0);
  let end = nearest(queue, settled);
  for (let row = rowOf[end] ?? -1; row >= 0; row = rowOf[end] ?? -1) {
    settled[end] = 1;
    reach(graph, state, queue, touched, row, distance[end] ?? 0);
    end = nearest(queue, settled);
  }
  const total = distance[end] ?? 0;
  rowPrice[start] = (rowPrice[start] ?? 0) + total;
  for (const column of touched) {
    if (settled[column] === 1) {
      const moved = total - (distance[column] ?? 0);
      const row = rowOf[column] ?? 0;
      columnPrice[column] = (columnPrice[column] ?? 0) - moved;
      rowPrice[row] = (rowPrice[row] ?? 0) + moved;
    }
    distance[column] = Infinity;
    settled[column] = 0;
  }
  for (let column = end; ; ) {
    const row = reachedFrom[column] ?? start;
    const before = columnOf[row] ?? -1;
    columnOf[row] = column;
    rowOf[column] = row;
    if (row === start) return;
    column = before;
  }
}

/** Looks along all pairs of one row and notes the columns that are now cheaper to reach. */
function reach(graph: Graph, state: State, queue: Queue, touched: number[], row: number, soFar: number): void {
  const { rowPrice, columnPrice, distance, reachedFrom, settled } = state;
  const base = soFar - (rowPrice[row] ?? 0);
  const stop = graph.firstPair[row + 1] ?? 0;
  for (let pair = graph.firstPair[row] ?? 0; pair < stop; pair++) {
    const column = graph.target[pair] ?? 0;
    const length = base + (graph.cost[pair] ?? 0) - (columnPrice[column] ?? 0);
    const known = distance[column] ?? Infinity;
    if (settled[column] === 1 || length >= known) continue;
    if (known === Infinity) touched.push(column);
    distance[column] = length;
    reachedFrom[column] = row;
    push(queue, length, column);
  }
}

/** A binary heap of columns by distance, then by number. A column may lie in it more than once: the nearest entry counts. */
interface Queue {
  readonly keys: number[];
  readonly columns: number[];
}

function nearest(queue: Queue, settled: Uint8Array): number {
  let column = pop(queue);
  while (settled[column] === 1) column = pop(queue);
  return column;
}

function before(queue: Queue, a: number, b: number): boolean {
  const byKey = (queue.keys[a] ?? 0) - (queue.keys[b] ?? 0);
  return byKey === 0 ? (queue.columns[a] ?? 0) < (queue.columns[b] ?? 0) : byKey < 0;
}

function swap(queue: Queue, a: number, b: number): void {
  const { keys, columns } = queue;
  const key = keys[a] ?? 0;
  const column = columns[a] ?? 0;
  keys[a] = keys[b] ?? 0;
  columns[a] = columns[b] ?? 0;
  keys[b] = key;
  columns[b] = column;
}

function push(queue: Queue, key: number, column: number): void {
  let place = queue.keys.push(key) - 1;
  queue.columns.push(column);
  while (place > 0) {
    const parent = (place - 1) >> 1;
    if (!before(queue, place, parent)) return;
    swap(queue, place, parent);
    place = parent;
  }
}

function pop(queue: Queue): number {
  const last = queue.keys.length - 1;
  swap(queue, 0, last);
  const column = queue.columns.pop() ?? 0;
  queue.keys.pop();
  for (let place = 0; ; ) {
    const left = 2 * place + 1;
    if (left >= last) return column;
    const child = left + 1 < last && before(queue, left + 1, left) ? left + 1 : left;
    if (!before(queue, child, place)) return column;
    swap(queue, place, child);
    place = child;
  }
}
