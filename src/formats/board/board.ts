import type { OpticsSettings } from '../../core/checks/clip-optics.ts';
import type { JudgedDay, JudgedSet, Verdict } from '../../core/checks/judged.ts';
import { sortedBy } from '../report/order.ts';
import { findingWords } from '../sheet/sheet-contents.ts';
import { countSeverities, unusedRowsWords, worstFirst } from '../terminal/table.ts';
import { boardFilter, countOf, VERDICTS } from './board-filter.ts';
import { BOARD_POLICY, BOARD_SCRIPT } from './board-script.ts';
import { anchorOf, boardSet, codesOf, findingList, VERDICT_SIGNS } from './board-set.ts';
import { BOARD_STYLE } from './board-style.ts';
import type { Html } from './html.ts';
import { html } from './html.ts';

/** What a board is made with: the show's name, and stills as JPEG by `stillKey` (those of `boardStills`). */
export interface BoardOptions {
  readonly show: string;
  readonly stills: ReadonlyMap<string, Uint8Array>;
  /** What the ± of repeat cards rest on; without it they have none. */
  readonly optics?: OpticsSettings;
}

/** How a board writes its policy: a server that adds to the page must change both in one place. */
export const POLICY_TAG = html`<meta http-equiv="Content-Security-Policy" content="${{ markup: BOARD_POLICY }}">`.markup;

/**
 * The day on one page, HTML that needs nothing but itself: no network, nothing from a file unescaped, one script that filters. Every
 * set with its verdict, worst first; its passes on a time line; its findings; what is still to be shot and how.
 */
export function formatBoard(day: JudgedDay, { show, stills, optics }: BoardOptions): string {
  const sets = worstFirst(day.sets);
  const title = show === '' ? 'Day board' : `Day board · ${show}`;
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
${{ markup: POLICY_TAG }}
<meta name="color-scheme" content="light dark">
<link rel="icon" href="data:,">
<title>${title}</title>
<style>${{ markup: BOARD_STYLE }}</style>
</head>
<body>
<a class="skip" href="#sets">To the sets</a>
<header class="top">
<h1>${title}</h1>
${totals(day)}
${unusedRowsWords(day).map((words) => html`<p><b>${words}</b></p>`)}
</header>
${boardFilter(day)}
<main id="sets" tabindex="-1">
${overview(sets)}
${sets.map((set) => boardSet(set, stills, optics))}
${withoutSet(day)}
</main>
<footer>
<p>gemel is no offload tool: never erase a card on its word. This page describes plates. It clears nothing for safety: motion control, stunts and rigging are the responsible crew’s to judge, under local rules. Colour is passed through untouched.</p>
</footer>
<script>${{ markup: BOARD_SCRIPT }}</script>
</body>
</html>
`.markup;
}

function totals({ sets, clips, unplaced }: JudgedDay): Html {
  const badge = (verdict: Verdict): Html => html`<li class="badge ${verdict}"><span aria-hidden="true">${VERDICT_SIGNS[verdict]}</span> <b>${countOf(sets, verdict)}</b> ${verdict}</li>`;
  return html`<p id="strike">Clear to strike:</p>
<ul class="totals" aria-labelledby="strike">${VERDICTS.map(badge)}</ul>
<p>${counted(sets.length, 'set')}, ${counted(clips.length, 'clip')}, ${unplaced.length} of them in no set.</p>`;
}

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

/** One line a set, to be found at a glance and followed. */
function overview(sets: readonly JudgedSet[]): Html {
  if (sets.length === 0) return html`<p>No plate set was found.</p>`;
  const row = ({ matched: { set }, verdict, reason, findings }: JudgedSet): Html => {
    const { stop, warn } = countSeverities(findings);
    const id = anchorOf(set.id);
    return html`<tr id="row-${id}"><th scope="row"><a href="#${id}"><bdi>${set.id}</bdi></a></th><td><span class="badge ${verdict}"><span aria-hidden="true">${VERDICT_SIGNS[verdict]}</span> ${verdict}</span></td><td class="number">${stop}</td><td class="number">${warn}</td><td>${reason}</td></tr>
`;
  };
  return html`<nav id="overview" aria-label="All sets"><table class="overview"><caption>All sets, worst first</caption>
<thead><tr><th scope="col">Set</th><th scope="col">Strike?</th><th scope="col" class="number">Stop</th><th scope="col" class="number">Warn</th><th scope="col">Why</th></tr></thead>
<tbody>
${sets.map(row)}</tbody></table></nav>`;
}

function withoutSet({ unplaced, findings, clips }: JudgedDay): Html | undefined {
  if (unplaced.length === 0 && findings.length === 0) return undefined;
  const entries = sortedBy(unplaced, ({ clip }) => clip).map(({ clip, why }) => html`<dt><bdi>${clip}</bdi></dt><dd>${why}</dd>
`);
  return html`<section class="set" id="in-no-set" aria-labelledby="no-set" data-find="${unplaced.map(({ clip }) => clip).join(' ')}" data-codes="${codesOf(findings)}"><h2 id="no-set">In no set</h2>
${findingList(findingWords(findings, clips))}
${entries.length === 0 ? undefined : html`<dl>${entries}</dl>`}
</section>`;
}
