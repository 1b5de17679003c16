import type { JudgedSet } from '../../core/checks/judged.ts';
import type { NeededRange } from '../../core/coverage/coverage.ts';
import type { Clip } from '../../core/material/clip.ts';
import type { ColourDecision, CutLayer, CutShot } from '../../core/material/cut.ts';
import { lengthOf, pullRange } from '../../core/timecode/range.ts';
import { nominalBase, rateName } from '../../core/timecode/rate.ts';
import { formatTimecode } from '../../core/timecode/timecode.ts';
import { framesWords, labelAt, roleName, shortName } from './clip-words.ts';
import type { Block, Cell, Fact } from './content.ts';
import { coversOf, isHeld, shownNeeds } from './coverage-drawing.ts';
import { frameNumberTable } from './frame-numbers.ts';
import { numberWords } from './value-words.ts';

/** What a shot is in the cut: its range, its handles, its frame numbers, its layers, retimes and colour values. Empty where no shot is known. */
export function shotBlocks(judged: JudgedSet, firstFrame: number): readonly Block[] {
  return shownNeeds(judged).filter(({ shot }) => shot !== undefined).flatMap((needed) => {
    const inCut = judged.shots.find((row) => row.shot === needed.shot && row.inCut?.lead === needed.lead)?.inCut;
    return [
      { kind: 'facts', facts: [...cutFacts(inCut), ...rangeFacts(judged, needed, firstFrame)] },
      ...(inCut === undefined ? [] : layerBlocks(inCut, judged.matched.set.clips)),
      frameNumberTable(judged, needed, firstFrame),
      ...(inCut?.cdl === undefined ? [] : colourBlocks(inCut.cdl)),
    ] satisfies readonly Block[];
  });
}

/** The layers of a shot in the cut, its retimes and what the editor wrote beside it. */
export function layerBlocks(inCut: CutShot, clips: readonly Clip[]): readonly Block[] {
  const notes = inCut.notes.length === 0 ? [] : [{ kind: 'text', text: `From the cut: ${inCut.notes.join(' · ')}`, tone: 'faint' } as const];
  return [...retimeBlocks(inCut), layersTable(inCut, clips), ...notes];
}

function cutFacts(inCut: CutShot | undefined): readonly Fact[] {
  if (inCut === undefined) return [];
  const { shot, shotFrom, record, rate, recordDropFrame, from } = inCut;
  const format = { base: nominalBase(rate), drop: recordDropFrame };
  const label = (frame: number): string => formatTimecode({ frame, format });
  return [
    { label: 'Shot code', value: `${shot} (by ${shotFrom})` },
    { label: 'In the cut', value: `${label(record.start)} – ${label(record.end - 1)} (last frame, in), ${framesWords(lengthOf(record))} at ${rateName(rate)} fps, ${from}` },
  ];
}

function rangeFacts(judged: JudgedSet, needed: NeededRange, firstFrame: number): readonly Fact[] {
  const { cut, handles, from, basis } = needed;
  const pull = pullRange(cut, handles);
  const last = firstFrame + lengthOf(pull) - 1;
  const cutFirst = firstFrame + handles.head;
  const frames = lengthOf(cut);
  return [
    { label: 'Cut range', value: `${framesWords(frames)}, frames ${cutFirst} – ${cutFirst + frames - 1}${basis === 'lead-take' ? ' (no cut known: the whole lead take)' : ''} (${from})` },
    { label: 'Handles', value: `${handles.head} + ${handles.tail} frames asked, frames ${firstFrame} – ${last} in all; ${handlesThere(judged, needed)}` },
  ];
}

/** "lead pass 8 + 8 there; swapped pass 8 + 3 there, short by 5". */
function handlesThere(judged: JudgedSet, needed: NeededRange): string {
  const { handles } = needed;
  return coversOf(judged, needed).filter((cover) => !isHeld(judged, cover)).map(({ role, missingHeadHandle, missingTailHandle }) => {
    const short = missingHeadHandle + missingTailHandle;
    return `${roleName(role)} ${handles.head - missingHeadHandle} + ${handles.tail - missingTailHandle} there${short === 0 ? '' : `, short by ${short}`}`;
  }).join('; ');
}

function retimeBlocks({ layers, lead }: CutShot): readonly Block[] {
  const retimed = layers.filter(({ retime }) => retime !== undefined);
  if (retimed.length === 0) return [];
  const words = [...new Set(retimed.map(({ clip, track, retime }) => `${clip === lead ? 'lead' : track}: ${retime?.words ?? ''}`))];
  return [{ kind: 'text', tone: 'strong', text: `Retimed in the cut (${words.join('; ')}). Plates are given as they were recorded; frames below are of the plates, not of the cut.` }];
}

function layersTable({ layers, lead }: CutShot, clips: readonly Clip[]): Block {
  return {
    kind: 'table',
    caption: 'Layers of the cut, bottom first; source frames with dissolves worked in, first and last frame both in.',
    columns: [{ heading: 'Track', share: 0.5 }, { heading: 'Clip', share: 1.7 }, { heading: 'Source', share: 2 }, { heading: 'Speed, transitions', share: 1.5 }, { heading: 'Tied by', share: 1.9 }],
    rows: layers.map((layer) => layerRow(layer, clips.find(({ id }) => id === layer.clip), layer.clip === lead)),
  };
}

function layerRow(layer: CutLayer, clip: Clip | undefined, isLead: boolean): readonly Cell[] {
  const { source, dissolve, retime, disabled, tiedBy, from, track } = layer;
  const labels = clip === undefined ? [] : [labelAt(clip, source.start), labelAt(clip, source.end - 1)];
  const numbers = `frames ${source.start} – ${source.end - 1}`;
  const extras = [
    retime?.words ?? '',
    dissolve.head > 0 ? `+ ${dissolve.head} under a transition at the head` : '',
    dissolve.tail > 0 ? `+ ${dissolve.tail} under a transition at the tail` : '',
    disabled ? 'muted in the cut' : '',
  ].filter((part) => part !== '');
  return [
    { text: track, tone: isLead ? 'strong' : 'plain' },
    { text: clip === undefined ? layer.clip : shortName(clip), ...(clip === undefined ? { note: 'of another set-up' } : { note: isLead ? 'lead pass' : roleName(clip.role) }) },
    labels[0] === undefined || labels[1] === undefined ? { text: numbers } : { text: `${labels[0]} – ${labels[1]}`, note: numbers },
    { text: extras.length === 0 ? 'as recorded' : extras.join('; '), ...(extras.length === 0 ? { tone: 'faint' } : { tone: 'strong' }) },
    { text: tiedBy, note: from },
  ];
}

function colourBlocks({ slope, offset, power, saturation, from }: ColourDecision): readonly Block[] {
  const triple = (values: readonly number[]): string => values.map((value) => numberWords(value, 6)).join(', ');
  return [
    {
      kind: 'facts',
      facts: [
        { label: 'ASC CDL', value: `slope ${triple(slope)} · offset ${triple(offset)} · power ${triple(power)} · saturation ${numberWords(saturation, 6)} (red, green, blue; ${from})` },
        { label: '', value: 'Carried along, not applied to any picture.' },
      ],
    },
  ];
}
