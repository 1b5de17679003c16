import { drawMatch, drawPanels } from '../../core/picture/measure/draw-match.ts';
import type { MeasuredMatch } from '../../core/picture/measure/measure-match.ts';
import { measureMatch } from '../../core/picture/measure/measure-match.ts';
import type { PictureAnswer, PictureClip, PictureOrder, ShownPicture } from '../../ports.ts';
import type { DecodedClip, ProxyTools } from './decode-proxies.ts';
import { decodeProxies } from './decode-proxies.ts';
import { encodePng } from './encode-png.ts';

export type OrderAnswer = PictureAnswer | { readonly undecodable: string };

/** Measures the matches of one set, each clip decoded once. Without a lead nothing can be measured; without another clip, less. */
export async function measureOrders(orders: readonly PictureOrder[], tools: ProxyTools, signal: AbortSignal): Promise<readonly OrderAnswer[]> {
  const decoded = new Map<string, DecodedClip | string>();
  const clipOf = async (clip: PictureClip | undefined): Promise<DecodedClip | string | undefined> => {
    if (clip === undefined) return undefined;
    const known = decoded.get(clip.at.path) ?? (await decodeOrSay(clip, tools, signal));
    decoded.set(clip.at.path, known);
    return known;
  };
  const answers: OrderAnswer[] = [];
  try {
    for (const order of orders) answers.push(await measureOne(order, clipOf));
    return answers;
  } finally {
    for (const clip of decoded.values()) if (typeof clip !== 'string') clip[Symbol.dispose]();
  }
}

async function measureOne(order: PictureOrder, clipOf: (clip: PictureClip | undefined) => Promise<DecodedClip | string | undefined>): Promise<OrderAnswer> {
  const [lead, pass, clean] = [await clipOf(order.lead), await clipOf(order.pass), await clipOf(order.clean)];
  if (lead === undefined || typeof lead === 'string') return { undecodable: `the lead: ${lead ?? 'none'}` };
  if (typeof pass === 'string') return { undecodable: `the swapped pass: ${pass}` };
  const elements: DecodedClip[] = [];
  for (const element of order.elements) {
    const clip = await clipOf(element);
    if (clip !== undefined && typeof clip !== 'string') elements.push(clip);
  }
  const { picture, shown } = measureMatch({ ...order, lead, pass, clean: typeof clean === 'string' ? undefined : clean, elements });
  return { picture, ...(shown === undefined ? {} : { shown: picturesOf(shown, order.wantsWhole === true) }) };
}

function picturesOf(shown: NonNullable<MeasuredMatch['shown']>, wantsWhole: boolean): ShownPicture {
  return { panels: drawPanels(shown).map(encodePng), ...(wantsWhole ? { whole: encodePng(drawMatch(shown)) } : {}) };
}

/** Why a clip gives no pictures is an answer; that the work was stopped is none. */
async function decodeOrSay(clip: PictureClip, tools: ProxyTools, signal: AbortSignal): Promise<DecodedClip | string> {
  try {
    return await decodeProxies(clip, tools, signal);
  } catch (failure) {
    signal.throwIfAborted();
    return failure instanceof Error ? failure.message : String(failure);
  }
}
