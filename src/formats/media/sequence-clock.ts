import type { FrameRate } from '../../core/timecode/rate.ts';
import { formatRate, frameRate, hasDropFrame, nominalBase } from '../../core/timecode/rate.ts';
import type { Timecode } from '../../core/timecode/timecode.ts';
import { parseLabel, parseLabelParts, TimecodeError } from '../../core/timecode/timecode.ts';
import type { FoundProblem, FoundValue, MediaFacts } from './media-facts.ts';
import { doubtful, firstOf, found } from './media-facts.ts';

/** What the labels of several pictures tell together. `timecode` and `values` only where one picture alone left it open. */
export interface SequenceClock {
  readonly values: readonly FoundValue[];
  readonly problems: readonly FoundProblem[];
  readonly timecode?: Timecode;
}

interface NumberedLabel {
  readonly number: number;
  readonly label: string;
}

/** One way to count: the rate labels run at, and how many pictures share one. */
interface Counting {
  readonly rate: FrameRate;
  readonly pictures: 1 | 2;
}

/** Fewer labels fit more than one way to count. */
const TELLING_LABELS = 3;

/**
 * Whether timecode runs one frame a picture, and above 30 frames a second whether each label stands for one picture or for two
 * (ST 12-1). Samples in order of their numbers.
 */
export function sequenceClock(samples: readonly { readonly number: number; readonly facts: MediaFacts }[]): SequenceClock {
  const labels = samples.flatMap(({ number, facts }) => {
    const label = firstOf(facts.values, 'tcIn');
    return label === undefined ? [] : [{ number, label }];
  });
  const lacking = labels.length > 0 && labels.length < samples.length;
  const problems = lacking ? [doubtful('timecode', `${labels.length} of the ${samples.length} pictures looked at`, 'timecode in every picture')] : [];
  const [first] = labels;
  const rate = samples[0]?.facts.rate;
  // Where the first picture has no timecode, or one that cannot be, its own reader has said so.
  if (first === undefined || rate === undefined || first.number !== samples[0]?.number || timecodeAt(first.label, rate) === undefined) return { values: [], problems };
  const fast = nominalBase(rate) > 30;
  const single: Counting = { rate, pictures: 1 };
  const running = [single, ...(fast ? [{ rate: frameRate(rate.num, rate.den * 2), pictures: 2 } as const] : [])].find((counting) => firstJump(labels, first, counting) === undefined);
  if (running !== undefined) return fast && labels.length >= TELLING_LABELS ? { ...counted(first, running), problems } : { values: [], problems };
  const jump = firstJump(labels, first, single);
  const seen = `${first.label} in frame ${first.number} but ${jump?.label} in frame ${jump?.number}`;
  return { values: [], problems: [...problems, doubtful('timecode', seen, 'one frame further with each picture')] };
}

function counted({ label }: NumberedLabel, { rate }: Counting): Omit<SequenceClock, 'problems'> {
  const values = [found('timecodeRate', rate, formatRate(rate), 'timecode of several pictures')];
  const timecode = timecodeAt(label, rate);
  return timecode === undefined ? { values } : { values, timecode };
}

/** The first label that is not where it should be; of a pair, the first picture may be either. */
function firstJump(labels: readonly NumberedLabel[], first: NumberedLabel, { rate, pictures }: Counting): NumberedLabel | undefined {
  const start = timecodeAt(first.label, rate)?.frame ?? Number.NaN;
  const off = (phase: number): NumberedLabel | undefined =>
    labels.find(({ number, label }) => timecodeAt(label, rate)?.frame !== start + Math.floor((number - first.number + phase) / pictures));
  return pictures === 1 ? off(0) : off(0) && off(1);
}

function timecodeAt(label: string, rate: FrameRate): Timecode | undefined {
  try {
    const drop = parseLabelParts(label).separatorDrop && hasDropFrame(rate);
    return parseLabel(label, { base: nominalBase(rate), drop });
  } catch (error) {
    if (error instanceof TimecodeError) return undefined;
    throw error;
  }
}
