import { parentPort, workerData } from 'node:worker_threads';
import type { PictureOrder } from '../../ports.ts';
import type { ProxyTools } from './decode-proxies.ts';
import type { OrderAnswer } from './measure-orders.ts';
import { measureOrders } from './measure-orders.ts';

// A thread that measures one set after the other, as it is told. It is started by picture-threads.ts and nothing else.

/** What a thread is told: a set to measure, or to stop what it is doing. */
export type ThreadOrder = { readonly kind: 'measure'; readonly orders: readonly PictureOrder[] } | { readonly kind: 'stop' };

export type ThreadAnswer = { readonly kind: 'measured'; readonly answers: readonly OrderAnswer[] } | { readonly kind: 'failed'; readonly message: string };

const tools = workerData as ProxyTools; // set by picture-threads.ts
let stop = new AbortController();

function tell(answer: ThreadAnswer): void {
  const pictures = answer.kind === 'measured' ? answer.answers.flatMap((one) => ('shown' in one && one.shown !== undefined ? [...(one.shown.whole === undefined ? [] : [one.shown.whole]), ...one.shown.panels].map(({ buffer }) => buffer as ArrayBuffer) : [])) : []; // encodePng makes plain ones
  parentPort?.postMessage(answer, pictures);
}

parentPort?.on('message', (order: ThreadOrder) => {
  if (order.kind === 'stop') {
    stop.abort(new Error('stopped'));
    return;
  }
  stop = new AbortController();
  measureOrders(order.orders, tools, stop.signal).then(
    (answers) => tell({ kind: 'measured', answers }),
    (failure: unknown) => tell({ kind: 'failed', message: failure instanceof Error ? failure.message : String(failure) }),
  );
});
