import type { JudgedDay, JudgedSet, Verdict } from '../../core/checks/judged.ts';
import type { Html } from './html.ts';
import { html } from './html.ts';
import { VERDICT_SIGNS } from './board-set.ts';

/** The verdicts, worst first. */
export const VERDICTS = ['no', 'look', 'yes'] as const satisfies readonly Verdict[];

/** Search and filter, hidden until the script that serves them runs; and the line that says how many sets are seen. */
export function boardFilter(day: JudgedDay): Html {
  const cameras = sortedOnce(day.sets.map(({ matched }) => matched.set.camera));
  const codes = sortedOnce([...day.sets, day].flatMap(({ findings }) => findings.map((finding) => finding.code)));
  const box = (verdict: Verdict): Html => html`<label class="box"><input type="checkbox" name="verdict" value="${verdict}"><span class="${verdict}"><span aria-hidden="true">${VERDICT_SIGNS[verdict]}</span> ${verdict}</span> <b id="count-${verdict}">${countOf(day.sets, verdict)}</b></label>
`;
  return html`<form id="filter" role="search" aria-label="Sets" autocomplete="off" hidden>
<div><label for="find">Set, slate, shot or clip</label><input id="find" type="search" maxlength="200" spellcheck="false" autocapitalize="none" enterkeyhint="search"></div>
<fieldset><legend>Clear to strike</legend>
${VERDICTS.map(box)}</fieldset>
<div><label for="camera">Camera</label><select id="camera"><option value="">any</option>${cameras.map((camera) => html`<option value="=${camera}">${camera === '' ? 'not known' : shortened(camera)}</option>`)}</select></div>
<div><label for="code">Finding</label><select id="code"><option value="">any or none</option>${codes.map((code) => html`<option>${code}</option>`)}</select></div>
<button id="all" type="button">Show all</button>
</form>
<p id="shown" role="status"></p>`;
}

/** How many sets have a verdict. */
export function countOf(sets: readonly JudgedSet[], wanted: Verdict): number {
  return sets.filter(({ verdict }) => verdict === wanted).length;
}

function sortedOnce(texts: readonly string[]): readonly string[] {
  return [...new Set(texts)].toSorted((a, b) => (a < b ? -1 : 1));
}

/** An entry of a list as long as a phone is wide; what it stands for keeps its whole name. */
function shortened(text: string): string {
  const letters = Array.from(text);
  return letters.length <= 32 ? text : `${letters.slice(0, 31).join('')}…`;
}
