import type { CutLayer, CutShot } from '../../core/material/cut.ts';
import { formatRate, nominalBase } from '../../core/timecode/rate.ts';
import { formatTimecode } from '../../core/timecode/timecode.ts';
import { tidyNumber } from './order.ts';

/** What a cut says of a shot. Record labels: in is the first frame, out the first after it. Source ranges count from each clip's first frame, ends exclusive. */
export function cutOf({ shotFrom, record, rate, recordDropFrame, lead, layers, cdl, notes, from }: CutShot) {
  const format = { base: nominalBase(rate), drop: recordDropFrame };
  return {
    shotFrom,
    recordIn: formatTimecode({ frame: record.start, format }),
    recordOut: formatTimecode({ frame: record.end, format }),
    frames: record.end - record.start,
    rate: formatRate(rate),
    lead,
    layers: layers.map(layerOf),
    cdl: cdl === undefined ? null : { slope: cdl.slope.map(tidyNumber), offset: cdl.offset.map(tidyNumber), power: cdl.power.map(tidyNumber), saturation: tidyNumber(cdl.saturation), from: cdl.from },
    notes: [...notes],
    from,
  };
}

function layerOf({ clip, track, source, atRecordIn, retime, dissolve, disabled, from, tiedBy }: CutLayer) {
  return {
    clip,
    track,
    source: { start: source.start + 0, end: source.end + 0 },
    atRecordIn: atRecordIn + 0,
    retime: retime === undefined ? null : { kind: retime.kind, ratio: retime.kind === 'speed' ? tidyNumber(retime.ratio) : 0, words: retime.words },
    dissolve: { head: dissolve.head, tail: dissolve.tail },
    disabled,
    tiedBy,
    from,
  };
}
