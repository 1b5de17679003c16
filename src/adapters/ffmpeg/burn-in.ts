import type { BurnIn } from '../../ports.ts';

/** Names of the font and the text in the folder FFmpeg runs in: plain, so that nothing in the filters needs quoting. */
export const FONT_FILE = 'font.ttf';
export const TEXT_FILE = 'lines.txt';

const WIDEST = 1920;

/**
 * The filters of a reference movie: at most 1920 wide, even sides, the fixed lines at the top left, frame number at the bottom
 * left, timecode at the bottom right. The lines travel in a file, for free text must not be read as filter language.
 */
export function burnInFilters({ firstNumber, timecode }: BurnIn, rateText: string): string {
  const size = `scale=w='min(${WIDEST},trunc(iw/2)*2)':h='trunc(ih*min(1,${WIDEST}/iw)/2)*2':flags=bicubic,setsar=1`;
  const look = `fontfile=${FONT_FILE}:fontsize='max(10,h/28)':fontcolor=white:box=1:boxcolor=black@0.6:boxborderw=4`;
  const lines = `drawtext=${look}:textfile=${TEXT_FILE}:expansion=none:x=8:y=8`;
  const number = `drawtext=${look}:text='%{eif\\:n+${firstNumber}\\:d}':x=8:y=h-th-10`;
  if (timecode === undefined) return [size, lines, number].join(',');
  const label = timecode.replaceAll(':', '\\:').replaceAll(';', '\\;');
  return [size, lines, number, `drawtext=${look}:timecode='${label}':rate=${rateText}:x=w-tw-10:y=h-th-10`].join(',');
}
