import type { LeadPictures } from './lead-pictures.ts';

/** What the pictures add to a set that is clear, as the end of a sentence: that they join, or why nobody can tell. "" when no line was looked for. */
export function pictureWords(pictures: readonly LeadPictures[]): string {
  const splits = pictures.flatMap((one) => (one.kind === 'measured' && one.picture.split !== undefined ? [one.picture.split] : []));
  const untold = splits.find(({ verdict }) => verdict === 'cannot tell');
  const unread = pictures.flatMap((one) => (one.kind === 'not-measured' ? [one.why] : []))[0];
  if (untold !== undefined) return `whether the pictures join cannot be told from them: ${untold.reasons[0] ?? 'no reason given'}`;
  if (unread !== undefined) return `pictures not measured: ${unread}`;
  if (splits.length === 0 || splits.some(({ verdict }) => verdict !== 'yes')) return '';
  return splits.every(({ kind }) => kind === 'static') ? 'one standing line joins their pictures' : 'a moving line joins their pictures';
}
