import type { RepeatCardContent } from '../sheet/card-content.ts';
import { cardBody } from './board-card.ts';
import { html } from './html.ts';

/** A repeat card as a page for the phone in a camera assistant's hand: HTML that needs nothing but itself, no script, no network, nothing from a file unescaped. */
export function formatCardPage(card: RepeatCardContent): string {
  const { title, show, name, beside, order, footer } = card;
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">
<meta name="color-scheme" content="light dark">
<title>${title} ${name}${show === '' ? undefined : html` · ${show}`}</title>
<style>${{ markup: CARD_STYLE }}</style>
</head>
<body>
<header>
<p class="over">${title}${show === '' ? undefined : html` · ${show}`}</p>
<h1>${name} <small>${beside}</small></h1>
<p class="order">${order}</p>
</header>
<main>
${cardBody(card, 'h2')}
</main>
<footer>
<p>${footer.left}</p>
<p>${footer.caution}</p>
</footer>
</body>
</html>
`.markup;
}

/** One column, large values, labels above them; light and dark by the reader's setting, black on white in print. No text of a file ever stands in it. */
const CARD_STYLE = `
:root{--paper:#fff;--ink:#111416;--faint:#50585e;--rule:#c9ced2;--accent:#1d4e63}
@media (prefers-color-scheme:dark){:root{--paper:#101315;--ink:#f2f4f5;--faint:#aab3b9;--rule:#3c444a;--accent:#8cc3d9}}
*{box-sizing:border-box}
body{margin:0 auto;padding:.8rem;max-width:40rem;background:var(--paper);color:var(--ink);font:1rem/1.35 system-ui,"DejaVu Sans",sans-serif;overflow-wrap:anywhere}
p{margin:.3rem 0}
.over{color:var(--accent);font-weight:700;font-size:.85rem}
h1{font-size:2.4rem;line-height:1.1;margin:.1rem 0 .4rem}
h1 small{display:inline-block;font-size:1rem;font-weight:400;line-height:1.2}
.order{background:var(--ink);color:var(--paper);font-size:1.5rem;line-height:1.2;font-weight:700;padding:.6rem .7rem;border-radius:.3rem}
h2{font-size:1rem;color:var(--accent);margin:1.1rem 0 .3rem;padding-top:.4rem;border-top:2px solid var(--accent)}
dl{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,17rem),1fr));gap:.55rem 1rem;margin:0}
dl div{min-width:0}
dt{font-size:.9rem;color:var(--faint)}
dd{margin:0;font-weight:700;font-size:1.6rem;line-height:1.15}
small{color:var(--faint)}
.tolerance{font-weight:400;font-size:1.15rem}
.also{display:block;font-weight:400;font-size:1rem;line-height:1.3}
.marks{list-style:none;margin:0;padding:0}
.marks li{padding:.5rem 0;border-bottom:1px solid var(--rule);font-size:1.3rem}
.marks .time{margin-left:.5rem}
.not-noted{border:2px solid var(--ink);border-radius:.3rem;padding:.2rem .7rem .5rem;margin:1.1rem 0}
.not-noted h2{border:0;color:inherit;margin:.3rem 0;padding:0}
.not-noted ul{margin:0;padding-left:1.1rem}
.within{margin-top:.8rem}
.from,footer{color:var(--faint);font-size:.85rem}
footer{margin-top:1.2rem;border-top:1px solid var(--rule)}
@media print{:root{--paper:#fff;--ink:#000;--faint:#333;--rule:#999;--accent:#000}.order{border:2px solid;background:#fff;color:#000}dl div,.marks li{break-inside:avoid}}
`;
