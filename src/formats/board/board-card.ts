import type { CardFact, CardMark, CardPart, RepeatCardContent } from '../sheet/card-content.ts';
import { MISSING_TITLE } from '../sheet/card-content.ts';
import type { Html } from './html.ts';
import { html } from './html.ts';

/** The repeat card within the board: what is still to be shot, and everything it must repeat. */
export function boardCard(card: RepeatCardContent): Html {
  return html`<section class="card">
<h3>${card.order}</h3>
${cardBody(card, 'h4')}
</section>`;
}

/** What stands below a card's order: who is where, every value with its ±, the marks, what nobody noted, and what the ± rest on. */
export function cardBody(card: RepeatCardContent, heading: 'h2' | 'h4'): Html {
  return html`<p class="like">${card.like}</p>
${card.sections.map((part) => partOf(part, heading))}
${missingOf(card, heading)}
${card.within.map((text) => html`<p class="within">${text}</p>`)}
${card.taken.length === 0 ? undefined : html`<p class="from">Taken for granted: ${card.taken.join('; ')}.</p>`}
${card.sources === '' ? undefined : html`<p class="from">${card.sources}</p>`}`;
}

function headed(heading: 'h2' | 'h4', text: string): Html {
  return heading === 'h2' ? html`<h2>${text}</h2>` : html`<h4>${text}</h4>`;
}

function partOf({ heading: text, facts, marks, remark }: CardPart, heading: 'h2' | 'h4'): Html {
  return html`${headed(heading, text)}
${facts.length === 0 ? undefined : html`<dl>${facts.map(factOf)}</dl>`}
${marks === undefined ? undefined : html`<ol class="marks">${marks.map(markOf)}</ol>`}
${remark === undefined ? undefined : html`<p class="remark">${remark}</p>`}
`;
}

function factOf({ label, value, tolerance, also, mark }: CardFact): Html {
  return html`<div><dt>${label}${mark === undefined ? undefined : html` <small>${mark}</small>`}</dt><dd>${value}${tolerance === undefined ? undefined : html` <span class="tolerance">${tolerance}</span>`}${also === undefined ? undefined : html`<span class="also">${also}</span>`}</dd></div>
`;
}

function markOf({ name, time, also, values }: CardMark): Html {
  return html`<li><b>${name}</b> <b class="time">${time}</b> <span class="also">${also}</span>${values.map((value) => html`<span class="also">${value}</span>`)}</li>
`;
}

function missingOf({ missing }: RepeatCardContent, heading: 'h2' | 'h4'): Html | undefined {
  if (missing.length === 0) return undefined;
  return html`<div class="not-noted">${headed(heading, MISSING_TITLE)}
<ul>${missing.map(({ what, why }) => html`<li><b>${what}</b>${why === '' ? undefined : html` (${why})`}</li>
`)}</ul></div>`;
}
