import { UnreachableFileError } from '../../core/material/errors.ts';
import { formatRate, rateFromText, sameRate } from '../../core/timecode/rate.ts';
import { readDpx } from '../../formats/media/dpx.ts';
import { readExr } from '../../formats/media/exr.ts';
import type { MediaFacts } from '../../formats/media/media-facts.ts';
import { firstOf } from '../../formats/media/media-facts.ts';
import { headerLabelOf } from '../../formats/turnover/header-label-of.ts';
import type { PassPictures } from '../../formats/turnover/shot-file.ts';
import type { ReceivePorts } from './receive-ports.ts';

/** What is wrong with one frame's header, in words; undefined when it says what it must. */
export async function checkHeader(path: string, pictures: PassPictures, number: number, { open }: Pick<ReceivePorts, 'open'>, signal: AbortSignal): Promise<string | undefined> {
  let facts: MediaFacts;
  try {
    const file = await open(path, signal);
    try {
      facts = await (pictures.format === 'dpx' ? readDpx(file) : readExr(file));
    } finally {
      await file.close();
    }
  } catch (problem) {
    signal.throwIfAborted();
    if (!(problem instanceof UnreachableFileError)) throw problem;
    return `no header that can be read: ${problem.reason}`;
  }
  return faultOf(facts, pictures, number);
}

function faultOf({ completeness, values }: MediaFacts, pictures: PassPictures, number: number): string | undefined {
  if (completeness.complete === false) return `a broken picture: ${completeness.why}`;
  const wanted = headerLabelOf(pictures, number)?.label;
  const label = firstOf(values, 'tcIn');
  // All zero is what writers leave without timecode, so readers take midnight for none.
  const isMidnight = wanted !== undefined && /^00:00:00[:;]00$/.test(wanted);
  if (wanted !== undefined && label !== wanted && !(isMidnight && label === undefined)) return `timecode ${label ?? 'none'}, expected ${wanted}`;
  const rate = pictures.rate === null ? undefined : rateFromText(pictures.rate);
  const found = firstOf(values, 'fps');
  if (rate !== undefined && (found === undefined || !sameRate(rate, found))) return `rate ${found === undefined ? 'none' : formatRate(found)}, expected ${formatRate(rate)}`;
  return undefined;
}
