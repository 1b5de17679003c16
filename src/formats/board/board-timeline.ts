import type { FrameRange } from '../../core/timecode/range.ts';
import { lastFrame, overlap } from '../../core/timecode/range.ts';
import type { CoverageBar, CoverageDrawing } from '../sheet/content.ts';
import type { Html } from './html.ts';
import { html } from './html.ts';

/** One needed range and the passes against it, to scale. Drawn with boxes whose places are percentages, so that it reads on a phone too. */
export function boardTimeline(drawing: CoverageDrawing): Html {
  const { title, from, cut, pull, span, ticks, bars } = drawing;
  const handles = cut.start - pull.start + (pull.end - cut.end);
  return html`<figure class="timeline">
<figcaption><b>${title}</b> cut ${cut.start} to ${lastFrame(cut)}${handles === 0 ? '' : `, with handles ${pull.start} to ${lastFrame(pull)}`}, frames of the lead, both ends in (${from})</figcaption>
${bars.map((bar) => barRow(bar, drawing))}
<div class="scale" aria-hidden="true">${ticks.map(({ frame, label, timecode }) => html`<span style="left:${percent(frame, span)}%">${label}<br>${timecode}</span>`)}</div>
</figure>
`;
}

function barRow(bar: CoverageBar, { span, cut, pull }: CoverageDrawing): Html {
  const available = overlap(bar.available, span);
  const missing = bar.missing.flatMap(({ range, part }) => {
    const shown = overlap(range, span);
    return shown === undefined ? [] : [html`<i class="missing ${part}" style="${place(shown, span)}"></i>`];
  });
  return html`<p class="pass"><b>${bar.label}</b> ${bar.clip}: ${bar.words}</p>
<div class="track" aria-hidden="true"><i class="pull" style="${place(pull, span)}"></i><i class="cut" style="${place(cut, span)}"></i>${available === undefined ? undefined : html`<i class="bar ${bar.role}" style="${place(available, span)}"></i>`}${missing}</div>
`;
}

function place({ start, end }: FrameRange, span: FrameRange): Html {
  const left = percent(start, span);
  return html`left:${left}%;width:${Math.round((percent(end, span) - left) * 100) / 100}%`;
}

/** Where a frame's left edge stands, in hundredths of the track's width, to two decimals. */
function percent(frame: number, { start, end }: FrameRange): number {
  return Math.round(((Math.min(Math.max(frame, start), end) - start) / (end - start)) * 10_000) / 100;
}
