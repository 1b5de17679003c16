import type { Chosen } from '../material/clip.ts';

type Written = Pick<Chosen<unknown>, 'raw' | 'source'>;

/** A cell longer than this is no figure. */
const LONGEST = 40;

/** A value as the crew wrote it, then as it counts: `4'8" (1.422 m)`. The text alone where both say the same, or no person wrote it. */
export function asWritten(text: string, written: Written | undefined): string {
  const own = crewsOwn(written);
  if (own === undefined || !/[a-z'"°′″/½¼¾⅓⅔]/iu.test(own) || bareNumber(own) === bareNumber(text)) return text;
  return `${own} (${text})`;
}

/** A stop as the crew wrote it, with the scale of `text` where it has none: "T2.8 1/3" is read off the ring, "T3.17" is not. */
export function stopAsWritten(text: string, written: Written | undefined): string {
  const own = crewsOwn(written);
  if (own === undefined || !/\d/u.test(own)) return text;
  if (!/^[\d.]/u.test(own)) return own;
  return `${/^(?:T|f\/)/u.exec(text)?.[0] ?? ''}${own}`;
}

function crewsOwn(written: Written | undefined): string | undefined {
  if (written === undefined || (written.source.kind !== 'report' && written.source.kind !== 'note')) return undefined;
  const own = written.raw.replace(/\s+/gu, ' ').trim();
  return own === '' || own.length > LONGEST ? undefined : own;
}

/** The number of a text of one number and a plain unit ("2.5m", "2.5 m", "35 mm"): these say the same; "142 cm" and "1.42 m" do not. */
function bareNumber(text: string): string | undefined {
  const [, number, unit = ''] = /^([+-]?\d+(?:[.,]\d+)?) ?(m|mm|°|deg|k|fps)?\.?$/iu.exec(text.trim()) ?? [];
  return number === undefined ? undefined : `${Number(number.replace(',', '.'))} ${unit.toLowerCase().replace('deg', '°')}`;
}
