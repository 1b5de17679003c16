import type { ColourAnswer } from '../exposure/match-exposure.ts';
import { matchColour } from '../exposure/match-exposure.ts';
import type { ColourFrame } from '../frame.ts';
import { sampleOf } from '../split/study-split.ts';
import type { ClipFrames } from './clip-frames.ts';
import type { Laid } from './measure-registration.ts';
import { layBy } from './measure-registration.ts';

/** Exposure and white balance of the pass against the lead: the middle answer of up to three pairs of colour frames. */
export function exposureOf(lead: ClipFrames, pass: ClipFrames, { found, moving, pairs }: Laid): ColourAnswer {
  if (found === undefined) return { kind: 'cannot-tell', why: 'the passes could not be registered' };
  const answers = colourPairs(lead, pass, moving ? pairs : undefined).map(([first, second]) => matchColour(first, layColour(second), lead.encoding));
  const told = answers.flatMap((answer) => (answer.kind === 'measured' ? [answer] : [])).toSorted((a, b) => a.stops - b.stops);
  const middle = told[told.length >> 1];
  if (middle !== undefined && 2 * told.length >= answers.length) return middle;
  return answers.find(({ kind }) => kind === 'cannot-tell') ?? { kind: 'cannot-tell', why: 'no frames in colour lie over each other' };

  function layColour(frame: ColourFrame): ColourFrame {
    const lay = (values: Float32Array): Float32Array => layBy({ width: frame.width, height: frame.height, values }, found).values;
    return { ...frame, red: lay(frame.red), green: lay(frame.green), blue: lay(frame.blue) };
  }
}

/** A standing camera shows the same whenever it is looked at; of a moving one only frames that lie over each other can be compared. */
function colourPairs(lead: ClipFrames, pass: ClipFrames, matched: Laid['pairs'] | undefined): readonly (readonly [ColourFrame, ColourFrame])[] {
  const pairs = matched ?? sampleOf([...lead.colour.keys()], 3).map((number, index) => ({ lead: number, pass: sampleOf([...pass.colour.keys()], 3)[index] ?? -1 }));
  return pairs.flatMap((pair): (readonly [ColourFrame, ColourFrame])[] => {
    const [first, second] = [lead.colour.get(pair.lead), pass.colour.get(pair.pass)];
    return first === undefined || second === undefined ? [] : [[first, second]];
  });
}
