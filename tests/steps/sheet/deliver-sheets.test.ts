import { describe, expect, it } from 'vitest';
import { stillKey } from '../../../src/formats/sheet/content.ts';
import { DEFAULT_CARD_TEMPLATE, DEFAULT_SHEET_TEMPLATE } from '../../../src/formats/sheet/template.ts';
import type { SheetPorts } from '../../../src/steps/sheet/deliver-sheets.ts';
import { deliverSheets } from '../../../src/steps/sheet/deliver-sheets.ts';
import type { SheetPlan } from '../../../src/steps/sheet/plan-sheets.ts';
import { planSheets } from '../../../src/steps/sheet/plan-sheets.ts';
import { makeJudgedDay } from '../../support/make-judged.ts';

/** Ports that keep what happened: decodes asked for, pages printed with which stills, files written. */
function recordingPorts(over: Partial<SheetPorts> = {}) {
  const decodes: { readonly file: string; readonly frames: readonly number[] }[] = [];
  const printed: ReadonlyMap<string, Uint8Array>[] = [];
  const written: string[] = [];
  const ports: SheetPorts = {
    printer: { print: async (_content, stills) => (printed.push(stills), new Uint8Array([printed.length])) },
    frames: { stills: async ({ clip }, frames) => (decodes.push({ file: clip.file, frames }), frames.map((frame) => new Uint8Array([frame % 256]))) },
    locate: (clip) => ({ clip: { file: clip, kind: 'movie' }, path: `/media/${clip}`, rateText: '24/1' }),
    output: { write: async (file) => void written.push(file), holds: async () => false },
    progress: { start: () => undefined, advance: () => undefined, done: () => undefined },
    signal: new AbortController().signal,
    ...over,
  };
  return { ports, decodes, printed, written };
}

const plans = planSheets(makeJudgedDay(), { show: '', template: DEFAULT_SHEET_TEMPLATE, cardTemplate: DEFAULT_CARD_TEMPLATE });

describe('delivering sheets', () => {
  it('writes every planned page, in order', async () => {
    const { ports, written } = recordingPorts();
    expect(await deliverSheets(plans, ports)).toEqual(plans.map(({ file }) => file));
    expect(written).toEqual(plans.map(({ file }) => file));
  });

  it('decodes each clip once, with the frames of all the sheets that show it, in order', async () => {
    const twice: readonly SheetPlan[] = plans.flatMap((plan) => [plan, { ...plan, file: `again/${plan.file}`, stills: plan.stills.map((still) => ({ ...still, frame: still.frame + 1 })) }]);
    const { ports, decodes } = recordingPorts();
    await deliverSheets(twice, ports);
    expect(decodes.map(({ file }) => file).toSorted()).toEqual([...new Set(plans.flatMap(({ stills }) => stills.map(({ clip }) => clip)))].toSorted());
    for (const { frames } of decodes) expect(frames).toEqual([...new Set(frames)].toSorted((a, b) => a - b));
    expect(decodes.find(({ file }) => file === 'A_0003/A003C013_261125_R7QK.mov')?.frames).toEqual([38, 39, 91, 92, 145, 146, 158, 159, 187, 188, 204, 205]);
  });

  it('hands each page the stills it shows', async () => {
    const { ports, printed } = recordingPorts();
    await deliverSheets(plans, ports);
    plans.forEach(({ stills }, index) => {
      for (const still of stills) expect(printed[index]?.get(stillKey(still))).toEqual(new Uint8Array([still.frame % 256]));
    });
  });

  it('goes on without the stills of a clip that cannot be decoded, and says which', async () => {
    const failed: string[] = [];
    const source = recordingPorts();
    const { ports, printed } = recordingPorts({
      frames: { stills: async (clip, frames, width, signal) => (clip.path.endsWith('C013_261125_R7QK.mov') ? Promise.reject(new Error('no decoder')) : source.ports.frames.stills(clip, frames, width, signal)) },
      undecoded: (clip, reason) => failed.push(`${clip}: ${reason}`),
    });
    await deliverSheets(plans, ports);
    expect(failed).toEqual(['A_0003/A003C013_261125_R7QK.mov: no decoder']);
    expect([...(printed[0]?.keys() ?? [])].some((key) => key.includes('C013'))).toBe(false);
    expect([...(printed[0]?.keys() ?? [])].some((key) => key.includes('C012'))).toBe(true);
  });

  it('takes no page for granted, and has none made elsewhere, where the content of a clip it shows is not known', async () => {
    const unknown = 'A_0003/A003C013_261125_R7QK.mov';
    const asked: string[] = [];
    const { ports, written } = recordingPorts({
      madeOf: { printer: 'gemel', clip: (clip) => (clip === unknown ? '' : `content of ${clip}`) },
      elsewhere: async (pages) => (asked.push(...pages.map(({ plan }) => plan.file)), new Map()),
    });
    const holding: SheetPorts = { ...ports, output: { ...ports.output, holds: async (_file, madeOf) => madeOf !== '' } };
    const showing = plans.filter(({ stills }) => stills.some(({ clip }) => clip === unknown)).map(({ file }) => file);
    expect(showing.length).toBeGreaterThan(0);
    await deliverSheets(plans, holding);
    expect(written).toEqual(showing);
    await deliverSheets(plans, ports);
    expect(asked).toEqual(plans.map(({ file }) => file).filter((file) => !showing.includes(file)));
  });

  it('stops when it is told to', async () => {
    const stop = new AbortController();
    const { ports, written } = recordingPorts({ signal: stop.signal, output: { write: async () => stop.abort(new Error('enough')), holds: async () => false } });
    await expect(deliverSheets(plans, ports)).rejects.toThrow('enough');
    expect(written).toEqual([]);
  });
});
