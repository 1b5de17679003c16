import { scriptSource } from './script.ts';

/**
 * What the board does by itself: shows the filter, hides the sets that do not fit, and counts the rest. It asks nothing of the network
 * and writes texts only as texts. Without it the whole day is seen. After another script changed the sets, the event
 * `gemel-changed` lets it count again.
 */
export const BOARD_SCRIPT = String.raw`
(() => {
'use strict';
const byId = (id) => document.getElementById(id);
const form = byId('filter'), find = byId('find'), camera = byId('camera'), code = byId('code'), boxes = [...form.elements.verdict];
const plain = (text) => ' ' + text.normalize('NFKD').replace(/\p{M}+/gu, '').toLowerCase().replace(/[^\p{L}\p{N}]+/gu, ' ').trim();
let sets = [];
const learn = () => {
  sets = [...document.querySelectorAll('main > [data-find]')].map((part) => ({
    part, row: byId('row-' + part.id), text: plain(part.dataset.find), verdict: part.dataset.verdict, camera: part.dataset.camera, codes: part.dataset.codes.split(' '),
  }));
};
const fit = () => {
  // A word of one or two letters would be found all over: it must begin one.
  const words = plain(find.value).split(' ').filter(Boolean).map((word) => (word.length < 3 ? ' ' + word : word));
  const wanted = boxes.filter((box) => box.checked).map((box) => box.value);
  const found = { no: 0, look: 0, yes: 0 };
  let seen = 0, all = 0;
  for (const set of sets) {
    const fits = (camera.value === '' || camera.value === '=' + set.camera) && (code.value === '' || set.codes.includes(code.value)) && words.every((word) => set.text.includes(word));
    const shows = fits && (wanted.length === 0 || wanted.includes(set.verdict));
    set.part.hidden = !shows;
    if (set.row) set.row.hidden = !shows;
    if (set.verdict === undefined) continue;
    all += 1;
    if (fits) found[set.verdict] += 1;
    if (shows) seen += 1;
  }
  for (const box of boxes) byId('count-' + box.value).textContent = found[box.value];
  const narrowed = words.length + wanted.length > 0 || camera.value !== '' || code.value !== '';
  const left = seen === 0 && narrowed ? 'No set fits. ' : '';
  byId('shown').textContent = left + (narrowed ? seen + ' of ' + all + ' sets shown' : 'All ' + all + ' sets shown');
  byId('shown').classList.toggle('narrowed', narrowed);
  byId('all').disabled = !narrowed;
};
const clear = () => { form.reset(); fit(); find.focus(); };
form.addEventListener('submit', (event) => event.preventDefault());
form.addEventListener('input', fit);
byId('all').addEventListener('click', clear);
find.addEventListener('keydown', (event) => { if (event.key === 'Escape') { event.preventDefault(); clear(); } });
// A link into a set that the filter hides must not lead nowhere.
const follow = () => {
  const target = location.hash.length > 1 && byId(decodeURIComponent(location.hash.slice(1)));
  if (!target || !target.hidden) return;
  clear();
  target.scrollIntoView();
};
window.addEventListener('hashchange', follow);
window.addEventListener('pageshow', fit);
document.addEventListener('gemel-changed', () => { learn(); fit(); });
learn();
form.hidden = false;
document.documentElement.classList.add('filters');
fit();
follow();
})();
`;

/** What the board's own policy allows: pictures within it, its style, its one script. Nothing from anywhere, nothing to anywhere. */
export const BOARD_POLICY = `default-src 'none'; img-src data:; style-src 'unsafe-inline'; script-src ${scriptSource(BOARD_SCRIPT)}; base-uri 'none'; form-action 'none'`;
