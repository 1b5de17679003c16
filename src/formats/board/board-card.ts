import type { CardPart, RepeatCardContent } from '../sheet/repeat-card.ts';
import type { Table } from '../sheet/content.ts';
import type { Html } from './html.ts';
import { html } from './html.ts';

/** The repeat card within the board: what is still to be shot, and everything it must repeat. */
export function boardCard(card: RepeatCardContent): Html {
  return html`<section class="card">
<h3>${card.order}</h3>
<p>${card.like}</p>
${card.sections.map(part)}
<p class="from">${card.sources}</p>
</section>`;
}

function part({ heading, facts, table }: CardPart): Html {
  const entries = facts.map(({ label, value, known, mark }) => html`<div><dt>${label}</dt><dd${known ? undefined : html` class="unknown"`}>${value}${mark === undefined ? undefined : html` <small>${mark}</small>`}</dd></div>`);
  return html`<h4>${heading}</h4>
${entries.length === 0 ? undefined : html`<dl>${entries}</dl>`}
${table === undefined ? undefined : tableOf(table)}
`;
}

function tableOf({ columns, rows }: Table): Html {
  return html`<div class="wide"><table><thead><tr>${columns.map(({ heading }) => html`<th scope="col">${heading}</th>`)}</tr></thead>
<tbody>${rows.map((row) => html`<tr>${row.map(({ text }) => html`<td>${text}</td>`)}</tr>
`)}</tbody></table></div>`;
}
