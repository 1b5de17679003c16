import type { ComparedMove } from '../../core/checks/compared-move.ts';
import type { JudgedSet } from '../../core/checks/judged.ts';
import { stanceText } from '../../core/checks/move-words.ts';
import type { PassAlong } from '../../core/checks/pass-along.ts';
import { sortedBy } from '../report/order.ts';
import { roleName, shortName } from './clip-words.ts';
import type { Block, Cell } from './content.ts';
import { lensPlot, markPlot, movePlot } from './curves.ts';
import { numberWords } from './value-words.ts';

/** What runs along the passes, for the leads a set is judged by: lens values that change and moves, each with its plot. */
export function alongBlocks({ along = [], countingLeads }: JudgedSet): readonly Block[] {
  const counting = along.filter(({ passes }) => countingLeads.includes(passes.lead.id));
  const shown = sortedBy(counting.length > 0 ? counting : along, ({ passes }) => `${passes.lead.id} ${passes.pass.id}`);
  return shown.flatMap((one) => [...lensBlocks(one), ...(one.move === undefined ? [] : moveBlocks(one.move))]);
}

function lensBlocks(along: PassAlong): readonly Block[] {
  return along.curves.map((limited): Block => ({ kind: 'curves', plot: lensPlot(along.passes, limited) }));
}

function moveBlocks(move: ComparedMove): readonly Block[] {
  switch (move.kind) {
    case 'tracked': return [{ kind: 'curves', plot: movePlot(move) }, { kind: 'text', tone: 'faint', text: `${figuresText(move)} Rests on: ${[...move.plateAssumptions, ...move.comparison.assumptions].join('; ') || 'what is on record'}.` }];
    case 'marks': return [...plotted(move), { kind: 'table', ...marksCompared(move) }, { kind: 'text', tone: 'faint', text: `Rests on: ${[...move.plateAssumptions, ...move.comparison.assumptions, move.timing].filter((text) => text !== '').join('; ')}.` }];
    case 'not-compared': return [{ kind: 'text', text: `The moves of ${shortName(move.passes.lead)} and ${shortName(move.passes.pass)} are not compared: ${move.why}.` }];
  }
  return move satisfies never;
}

type Noted = Extract<ComparedMove, { kind: 'marks' }>;
type Tracked = Extract<ComparedMove, { kind: 'tracked' }>;

function plotted(move: Noted): readonly Block[] {
  const plot = markPlot(move);
  return plot === undefined ? [] : [{ kind: 'curves', plot }];
}

function figuresText({ comparison: { synced, aligned, timing } }: Tracked): string {
  const rms = `Root mean square over ${synced.frames} samples: near ${px(synced.near.rmsPx)}, far ${px(synced.far.rmsPx)}, parallax ${px(synced.parallax.rmsPx)}; a shift, scale and turn of each frame leave ${px(synced.keystoneRmsPx)} of the far plane.`;
  const isApart = timing.kind === 'found' && (Math.abs(timing.lateFrames) >= 0.05 || timing.speed !== 1);
  return aligned === undefined || !isApart ? rms : `${rms} With the delay taken out: parallax up to ${px(aligned.parallax.worstPx)}, near up to ${px(aligned.near.worstPx)}.`;
}

function marksCompared({ comparison, passes }: Noted): Omit<Extract<Block, { kind: 'table' }>, 'kind'> {
  const cell = (value: number | undefined, unit: string, digits = 1): Cell => ({ text: value === undefined ? '–' : `${numberWords(value, digits)}${unit}` });
  return {
    caption: `Marks of the ${roleName(passes.role)} ${shortName(passes.pass)} beside those of the lead`,
    columns: [
      { heading: 'Mark', share: 1 }, { heading: 'Late', share: 0.7, align: 'right' }, { heading: 'Camera', share: 3 },
      { heading: 'Near', share: 0.8, align: 'right' }, { heading: 'Far', share: 0.8, align: 'right' }, { heading: 'Parallax', share: 0.8, align: 'right' },
    ],
    rows: comparison.marks.map(({ name, lateS, stance, px: cost, notCompared }) => [
      { text: name, tone: 'strong', ...(name === comparison.worst ? { differs: true } : {}) },
      cell(lateS, ' s', 2),
      { text: stanceText(stance) || 'stood alike', ...(notCompared.length === 0 ? {} : { note: `not on record for both: ${notCompared.join(', ')}` }) },
      cell(cost?.nearPx, ' px'), cell(cost?.farPx, ' px'), cell(cost?.parallaxPx, ' px'),
    ]),
  };
}

function px(value: number): string {
  return `${numberWords(value, 2)} px`;
}
