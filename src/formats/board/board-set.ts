import type { OpticsSettings } from '../../core/checks/clip-optics.ts';
import type { JudgedSet, Verdict } from '../../core/checks/judged.ts';
import type { Finding } from '../../core/material/finding.ts';
import { roleName } from '../sheet/clip-words.ts';
import type { FindingWords, Picture, PlannedStill } from '../sheet/content.ts';
import { stillKey } from '../sheet/content.ts';
import { coverageDrawing, shownNeeds } from '../sheet/coverage-drawing.ts';
import { repeatCard } from '../sheet/repeat-card.ts';
import { findingWords } from '../sheet/sheet-contents.ts';
import { stillGroups } from '../sheet/stills.ts';
import { DEFAULT_CARD_TEMPLATE } from '../sheet/template.ts';
import { base64 } from './base64.ts';
import { boardCard } from './board-card.ts';
import { boardPicture } from './board-picture.ts';
import { boardTimeline } from './board-timeline.ts';
import type { Html } from './html.ts';
import { html } from './html.ts';

export const VERDICT_SIGNS: Readonly<Record<Verdict, string>> = { no: '✕', look: '◎', yes: '✓' };

/** One set: verdict and reason; passes in pictures and on a time line; the card of what is still to be shot, and findings. */
export function boardSet(judged: JudgedSet, stills: ReadonlyMap<string, Uint8Array>, optics?: OpticsSettings): Html {
  const { set, proposed, leftOver } = judged.matched;
  const id = anchorOf(set.id);
  const card = repeatCard(judged, DEFAULT_CARD_TEMPLATE, { show: '', ...(optics === undefined ? {} : { optics }) });
  const seen = [pictureStrip(judged, stills), boardPicture(judged, stills), ...shownNeeds(judged).map((needed) => boardTimeline(coverageDrawing(judged, needed)))];
  const found = [
    card === undefined ? undefined : boardCard(card),
    findingList(findingWords(judged.findings, set.clips)),
    ...proposed.map(({ lead, clip, role, why }) => html`<p class="aside">Proposed, not taken: ${clip} as ${roleName(role)} of ${lead} (${why}).</p>`),
    ...leftOver.map(({ clip, why }) => html`<p class="aside">Beside no lead: ${clip} (${why}).</p>`),
  ];
  return html`<article class="set" id="${id}" aria-labelledby="${id}-name" data-find="${wordsOf(judged)}" data-verdict="${judged.verdict}" data-camera="${set.camera}" data-codes="${codesOf(judged.findings)}">
<header class="${judged.verdict}">
<h2 id="${id}-name"><bdi>${set.slate}</bdi>${set.camera === '' ? undefined : html` <small>camera <bdi>${set.camera}</bdi></small>`}</h2>
<p class="verdict">Clear to strike: <b><span aria-hidden="true">${VERDICT_SIGNS[judged.verdict]}</span> ${judged.verdict.toUpperCase()}</b></p>
</header>
<p class="reason">${judged.reason}</p>
<p class="method">${set.method.name}: ${set.method.description} (${set.methodFrom})</p>
<div class="parts">${column('seen', seen)}${column('found', found)}</div>
<p class="back"><a href="#overview">All sets</a></p>
</article>
`;
}

/** One of the two columns of a wide page; nothing where there is nothing to show. */
function column(name: 'seen' | 'found', parts: readonly (Html | undefined)[]): Html | undefined {
  const shown = parts.filter((part) => part !== undefined);
  return shown.length === 0 ? undefined : html`<div class="${name}">${shown}</div>`;
}

/** What a set is searched by: its names, and those of its shots and clips. */
function wordsOf({ matched: { set }, shots }: JudgedSet): string {
  return [set.id, set.slate, set.camera, set.method.name, ...new Set(shots.map(({ shot }) => shot)), ...set.clips.map(({ file }) => file)].join(' ');
}

/** The codes of findings, each once, in order. */
export function codesOf(findings: readonly Finding[]): string {
  return [...new Set(findings.map(({ code }) => code))].toSorted((a, b) => (a < b ? -1 : 1)).join(' ');
}

/** The name a link goes to: a set's id may hold anything, so all but plain letters and digits is written as numbers. */
export function anchorOf(id: string): string {
  return `set-${id.replace(/[^A-Za-z0-9-]/g, (unit) => `_${unit.charCodeAt(0).toString(16)}_`)}`;
}

/** The stills a board shows: of each pass of a set's first range the middle frame. All of them are on the sheets too. */
export function boardStills(judged: JudgedSet): readonly PlannedStill[] {
  return middles(judged).flatMap(({ picture }) => picture.still ?? []);
}

interface Middle {
  readonly label: string;
  readonly note: string;
  readonly picture: Picture;
}

function middles(judged: JudgedSet): readonly Middle[] {
  const [group] = stillGroups(judged);
  return (group?.rows ?? []).flatMap(({ label, note, pictures }) => {
    const picture = pictures[Math.floor(pictures.length / 2)];
    return picture === undefined ? [] : [{ label, note, picture }];
  });
}

function pictureStrip(judged: JudgedSet, stills: ReadonlyMap<string, Uint8Array>): Html | undefined {
  const shown = middles(judged);
  if (shown.length === 0) return undefined;
  const figure = ({ label, note, picture }: Middle): Html => {
    const bytes = picture.still === undefined ? undefined : stills.get(stillKey(picture.still));
    const image = bytes === undefined ? html`<div class="no-picture">${picture.instead}</div>` : html`<img alt="${label}, middle frame" loading="lazy" src="data:image/jpeg;base64,${{ markup: base64(bytes) }}">`;
    return html`<figure>${image}<figcaption><b>${label}</b> ${note}${picture.remark === '' ? undefined : html`<br>${picture.remark}`}</figcaption></figure>`;
  };
  return html`<div class="pictures">${shown.map(figure)}</div>`;
}

/** Findings worst first, each with what to do. */
export function findingList(findings: readonly FindingWords[]): Html | undefined {
  if (findings.length === 0) return undefined;
  const entry = ({ severity, code, measured, consequence, remedy, clips, evidence }: FindingWords): Html => html`<li class="${severity}"><p><span class="severity">${severity}</span> <b>${code}</b> ${measured}</p>
<p>${consequence}</p>
<p class="remedy">→ ${remedy}</p>
<p class="from">${[clips, evidence].filter((part) => part !== '').join(' · ')}</p></li>
`;
  return html`<h3>Findings</h3>
<ul class="findings">
${findings.map(entry)}</ul>`;
}
