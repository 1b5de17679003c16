import type { JudgedSet } from '../../core/checks/judged.ts';
import { drawnStills, pictureFacts } from '../sheet/picture-study.ts';
import { stillKey } from '../sheet/content.ts';
import { base64 } from './base64.ts';
import type { Html } from './html.ts';
import { html } from './html.ts';

/** What the pictures of a set say: the joined picture with its line, and the figures; nothing where none were measured. */
export function boardPicture(judged: JudgedSet, stills: ReadonlyMap<string, Uint8Array>): Html | undefined {
  const measured = (judged.pictures ?? []).flatMap((one) => (one.kind === 'measured' && one.swapped !== undefined ? [one] : []));
  const [first] = measured;
  if (first === undefined) return undefined;
  const words = ['lead with the line', 'swapped pass with the line', 'joined', 'difference'];
  const images = drawnStills(judged).slice(0, words.length).flatMap((still, index) => {
    const bytes = stills.get(stillKey(still));
    return bytes === undefined ? [] : [html`<figure><img alt="${words[index] ?? ''}" loading="lazy" src="data:image/png;base64,${{ markup: base64(bytes) }}"><figcaption>${words[index] ?? ''}</figcaption></figure>`];
  });
  return html`<h3>Measured in the pictures</h3>
${images.length === 0 ? undefined : html`<div class="pictures">${images}</div>`}
<dl class="measured">${pictureFacts(first.picture).map(({ label, value }) => html`<div><dt>${label}</dt><dd>${value}</dd></div>
`)}</dl>`;
}
