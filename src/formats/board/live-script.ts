import { scriptSource } from './script.ts';

/**
 * What a served board does besides: asks the server every two seconds which board there is and how the watch stands, puts what changed into
 * the page and leaves the rest, so that filter, place and focus stay. It says so when no answer comes: an old board must never look live.
 */
export const LIVE_SCRIPT = String.raw`
(() => {
'use strict';
let shown = document.currentScript.dataset.board;
const live = document.createElement('p');
live.id = 'live';
const words = document.createElement('span'), files = document.createElement('a');
files.href = 'files';
files.textContent = 'Sheets and repeat cards';
live.append(words, ' ', files);
const say = (text, lost) => {
  if (words.textContent === text) return;
  live.classList.toggle('lost', lost);
  if (lost) words.setAttribute('role', 'alert'); else words.removeAttribute('role');
  words.textContent = text;
};
const ask = async (path) => {
  const answer = await fetch(path, { cache: 'no-store', signal: AbortSignal.timeout(10000) });
  if (!answer.ok) throw new Error(answer.status === 401 ? 'this page must be opened again with its token' : 'the server says ' + answer.status);
  return answer;
};
// The list of sets, or the sets: what is equal stays where it is, so that a reader's place and focus are not lost.
const renew = (old, fresh) => {
  const before = new Map([...old.children].map((part) => [part.id, part]));
  let at = old.firstElementChild;
  for (const part of [...fresh.children]) {
    const known = part.id === '' ? undefined : before.get(part.id);
    if (known) part.hidden = known.hidden;
    if (known && known === at) at = at.nextElementSibling;
    const isList = known && part.id === 'overview';
    if (isList) renew(known.querySelector('tbody'), part.querySelector('tbody'));
    if (isList || (known && known.isEqualNode(part))) {
      if (known.nextElementSibling !== at) old.insertBefore(known, at);
    } else {
      if (known) known.remove();
      old.insertBefore(part, at);
    }
  }
  while (at) { const gone = at; at = at.nextElementSibling; gone.remove(); }
};
const place = () => {
  const part = [...document.querySelectorAll('main > .set')].find((set) => set.getBoundingClientRect().bottom > 0 && !set.hidden);
  return part && scrollY > 0 ? { id: part.id, top: part.getBoundingClientRect().top } : undefined;
};
const put = (text) => {
  const fresh = new DOMParser().parseFromString(text, 'text/html');
  const sets = document.getElementById('sets'), freshSets = fresh.getElementById('sets');
  if (!sets || !freshSets) return location.reload();
  const was = place(), focused = document.activeElement.closest('.set, tr');
  document.title = fresh.title;
  const top = document.querySelector('.top');
  top.replaceChildren(...fresh.querySelector('.top').childNodes, live);
  for (const id of ['camera', 'code']) {
    const list = document.getElementById(id), { value } = list, freshList = fresh.getElementById(id);
    if (list.innerHTML === freshList.innerHTML) continue;
    list.replaceChildren(...freshList.childNodes);
    list.value = value;
    if (list.selectedIndex < 0) list.value = '';
  }
  renew(sets, freshSets);
  document.dispatchEvent(new Event('gemel-changed'));
  const part = was && document.getElementById(was.id);
  if (part && !part.hidden) scrollBy({ top: part.getBoundingClientRect().top - was.top, behavior: 'instant' });
  // A set and a row have one link each.
  if (focused && document.activeElement === document.body) document.getElementById(focused.id)?.querySelector('a')?.focus({ preventScroll: true });
};
let timer;
const look = async () => {
  clearTimeout(timer);
  try {
    const { board, standing } = await (await ask('live.json')).json();
    if (board !== shown) {
      const answer = await ask('board.html');
      put(await answer.text());
      shown = answer.headers.get('etag');
    }
    say('Live: ' + standing, false);
  } catch (problem) {
    say('Not live, what stands here may be old: ' + (problem instanceof TypeError || problem.name === 'TimeoutError' ? 'no answer from the watch' : problem.message), true);
  }
  clearTimeout(timer);
  if (document.visibilityState === 'visible') timer = setTimeout(look, 2000);
};
document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'visible') void look(); });
document.addEventListener('DOMContentLoaded', () => {
  document.querySelector('.top').append(live);
  void look();
});
})();
`;

/** How a policy names it. */
export const LIVE_SOURCE = scriptSource(LIVE_SCRIPT);
