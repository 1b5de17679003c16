import { z } from 'zod';
import { PULL_FORMATS } from '../media/pull-format.ts';
import type { ParsedFile } from './shot-file.ts';
import { parseFile } from './shot-file.ts';

/** The name and version of the shape. */
export const TURNOVER_SCHEMA = 'gemel/turnover/1';
/** Where it lies in a package. */
export const TURNOVER_FILE = 'turnover.json';

const whole = z.int();
/** Ends are exclusive here: these are numbers for the next turnover to reckon with, counted from a clip's first frame. */
const range = z.strictObject({ start: whole, end: whole });

/** What a shot needs of the media: enough to tell what has changed when the next cut comes. */
const shotState = z.strictObject({
  lead: z.string(),
  cut: range,
  pull: range,
  firstNumber: whole.meta({ description: 'number of the first frame of the pull' }),
  record: z.strictObject({ start: whole, end: whole, rate: z.string() }).nullable(),
  retime: z.string().nullable(),
  passes: z.array(z.strictObject({ role: z.string(), clip: z.string(), offset: whole, retime: z.string().nullable() })),
  pictures: z.enum(PULL_FORMATS).nullable(),
  movies: z.boolean(),
});

export const turnoverFile = z
  .strictObject({
    schema: z.literal(TURNOVER_SCHEMA),
    show: z.string(),
    revision: z.int().min(1),
    previous: z.strictObject({ package: z.string(), revision: z.int().min(1) }).nullable(),
    cuts: z.array(z.string()),
    pictures: z.enum(PULL_FORMATS).nullable(),
    movies: z.boolean(),
    shots: z
      .array(
        z.strictObject({
          shot: z.string().min(1),
          folder: z.string().min(1).nullable().meta({ description: 'the shot’s folder in this package; null when nothing of it was packaged this time' }),
          packagedIn: z.int().min(1).meta({ description: 'the revision whose package holds the shot as it stands' }),
          change: z.strictObject({ kinds: z.array(z.string()), words: z.array(z.string()) }),
          judged: z
            .strictObject({ verdict: z.enum(['yes', 'look', 'no']), stops: z.int().min(0), warnings: z.int().min(0) })
            .optional()
            .meta({ description: 'what its sheet says of it, and how many findings stop it or ask for a look' }),
          state: shotState,
        }),
      )
      .meta({ description: 'every shot that stands turned over, packaged now or before' }),
    leftOut: z
      .array(z.strictObject({ shot: z.string(), kind: z.enum(['stopped', 'not-here', 'untied', 'not-in-cut', 'ordinary']), why: z.string(), remedy: z.string() }))
      .meta({ description: 'untied: an event of the cut that could not be read or is tied to no clip; not-in-cut: a shot of the shot list that the cut does not use' }),
    dropped: z.array(z.string()).meta({ description: 'turned over before and no longer asked for; said only when the cut was read whole' }),
  })
  .meta({ title: 'gemel turnover', description: 'What a turnover package holds, and how every shot stands against the turnover before' });

export type TurnoverFile = z.infer<typeof turnoverFile>;
export type StandingShot = TurnoverFile['shots'][number];
export type ShotState = z.infer<typeof shotState>;
export type LeftOut = TurnoverFile['leftOut'][number];

/** A turnover as the text of `turnover.json`. */
export function formatTurnover(turnover: TurnoverFile): string {
  return `${JSON.stringify(turnover, null, 2)}\n`;
}

/** Reads the text of a `turnover.json`. */
export function parseTurnover(content: string): ParsedFile<TurnoverFile> {
  return parseFile(content, turnoverFile);
}

/** The JSON Schema of `turnover.json`. */
export function turnoverJsonSchema(): Readonly<Record<string, unknown>> {
  return { ...z.toJSONSchema(turnoverFile) };
}
