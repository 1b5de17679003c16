import { formatTimecode, parseLabel } from '../../core/timecode/timecode.ts';
import { labelOfFrame } from '../../core/timecode/half-rate.ts';
import type { HeaderLabel } from '../media/timecode-word.ts';
import { headerLabel } from '../media/timecode-word.ts';
import type { PassPictures } from './shot-file.ts';

/** The label the header of one pulled picture must carry, by its number in the file name; undefined when headers carry none. */
export function headerLabelOf({ timecode, numbers }: Pick<PassPictures, 'timecode' | 'numbers'>, number: number): HeaderLabel | undefined {
  const [run] = numbers;
  if (timecode === null || run === undefined) return undefined;
  const frame = timecode.firstFrame + number - run.first;
  const start = parseLabel(timecode.first, { base: timecode.base, drop: timecode.dropFrame });
  const label = labelOfFrame(start, frame, timecode.framesPerLabel);
  if (timecode.framesPerLabel === 1) return headerLabel(label);
  return { label: formatTimecode(label), phase: frame % timecode.framesPerLabel };
}

/** The file of one pulled picture: its number in the place of the run of "#". */
export function pictureFile({ files, padding }: Pick<PassPictures, 'files' | 'padding'>, number: number): string {
  const at = files.lastIndexOf('#'.repeat(padding));
  return at < 0 ? files : `${files.slice(0, at)}${String(number).padStart(padding, '0')}${files.slice(at + padding)}`;
}
