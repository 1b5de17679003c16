import { z } from 'zod';
import { PULL_FORMATS } from '../media/pull-format.ts';

/** The name and version of the shape; a change that breaks a reader raises the number. */
export const SHOT_SCHEMA = 'gemel/shot/1';

const whole = z.int();
const count = z.int().min(0);
const text = z.string();
/** Both ends are in, unlike ranges inside gemel: this is what people and other programs read. */
const frames = z.strictObject({ first: whole, last: whole }).meta({ description: 'first and last frame, both in' });
const label = z.string().nullable().meta({ description: 'a timecode label, ";" before the frames when drop frame; null when there is none' });
const rate = z.string().regex(/^\d+\/\d+$/).nullable().meta({ description: 'frames a second as a fraction' });
const file = z.string().min(1).meta({ description: 'relative to the package, "/" between folders' });

const pictures = z.strictObject({
  format: z.enum(PULL_FORMATS),
  bits: z.enum(['10 bit integer', '16 bit half float', '16 bit integer']),
  files: file.meta({ description: 'relative to the package; the run of # stands for the frame number, padded with zeros to its length' }),
  padding: z.int().min(1).max(12),
  numbers: z.array(frames).meta({ description: 'frame numbers that are there, in runs; what lies between runs was not there to pull' }),
  count,
  timecode: z
    .strictObject({ first: z.string(), firstFrame: count, base: z.int().min(1), dropFrame: z.boolean(), framesPerLabel: z.int().min(1) })
    .nullable()
    .meta({ description: 'label of the clip’s first frame, and which frame of the clip has the first number: from these the label in each header follows; null when headers carry none' }),
  rate,
  colour: text,
});

const pass = z.strictObject({
  role: z.enum(['lead', 'swapped', 'clean', 'element', 'reference']),
  clip: text.meta({ description: 'the clip’s file, relative to the media folder it was pulled from' }),
  reel: text.nullable(),
  slate: text.nullable(),
  kind: z.enum(['movie', 'sequence', 'header-only']),
  rate,
  lies: z.enum(['in sync', 'held', 'beside']).meta({ description: 'in sync: frame for frame under the lead; held: any frame stands for all, the camera being locked off; beside: a reference' }),
  sync: z.strictObject({ method: text, offset: whole, confidence: z.number(), words: text }).meta({ description: 'frame of this pass = frame of the lead + offset, both counted from their clip’s first' }),
  numbers: frames.nullable().meta({ description: 'frame numbers of the shot this pass has pictures for; null when none' }),
  source: z.strictObject({ first: count, last: count, timecodeFirst: label, timecodeLast: label }).nullable().meta({ description: 'the same frames counted from the clip’s first, which is 0' }),
  missing: z.array(z.strictObject({ first: whole, last: whole, part: z.enum(['cut', 'handle']) })).meta({ description: 'frame numbers that were asked for and are not there' }),
  retime: text.nullable(),
  pictures: pictures.nullable(),
  movie: z.strictObject({ file, frames: count }).nullable(),
  notDelivered: text.nullable().meta({ description: 'why no pictures lie here although pictures were asked for; the pull list is then the deliverable' }),
});

const finding = z.strictObject({ code: text, severity: z.enum(['stop', 'warn', 'note']), consequence: text, remedy: text });

export const shotFile = z
  .strictObject({
    schema: z.literal(SHOT_SCHEMA),
    show: text,
    shot: text.min(1),
    vendor: text.nullable(),
    description: text.nullable(),
    revision: z.int().min(1),
    change: z.strictObject({ kinds: z.array(text), words: z.array(text) }).meta({ description: 'against the turnover before this one' }),
    set: text,
    slate: text,
    camera: text,
    method: text,
    rate,
    numbers: frames.meta({ description: 'the whole pull: cut range and handles, whether all of it is there or not' }),
    cut: frames.meta({ description: 'the cut range by the same numbers' }),
    handles: z.strictObject({ head: count, tail: count }),
    record: z.strictObject({ in: text, out: text, rate }).nullable().meta({ description: 'where the shot lies in the cut; out is the frame after it' }),
    retime: text.nullable(),
    cdl: z
      .strictObject({ slope: z.array(z.number()).length(3), offset: z.array(z.number()).length(3), power: z.array(z.number()).length(3), saturation: z.number(), from: text })
      .nullable()
      .meta({ description: 'ASC CDL as the cut carries it; applied to nothing' }),
    passes: z.array(pass),
    findings: z.array(finding),
    notes: z.array(text),
    from: text,
  })
  .meta({ title: 'gemel shot', description: 'One shot of a turnover: what was delivered and how its passes fit together' });

export type ShotFile = z.infer<typeof shotFile>;
export type ShotPass = ShotFile['passes'][number];
export type PassPictures = NonNullable<ShotPass['pictures']>;
export type NumberRange = z.infer<typeof frames>;

/** A shot as the text of `shot.json`: two spaces, a line feed at the end. */
export function formatShot(shot: ShotFile): string {
  return `${JSON.stringify(shot, null, 2)}\n`;
}

/** A parsed shot, or what is wrong with it, a sentence a fault. */
export type ParsedFile<T> = { readonly kind: 'ok'; readonly value: T } | { readonly kind: 'faulty'; readonly faults: readonly string[] };

/** Reads the text of a `shot.json`. */
export function parseShot(content: string): ParsedFile<ShotFile> {
  return parseFile(content, shotFile);
}

/** Reads JSON text by a schema. */
export function parseFile<T>(content: string, schema: z.ZodType<T>): ParsedFile<T> {
  let raw: unknown;
  try {
    raw = JSON.parse(content);
  } catch {
    return { kind: 'faulty', faults: ['it is not JSON'] };
  }
  const parsed = schema.safeParse(raw);
  if (parsed.success) return { kind: 'ok', value: parsed.data };
  return { kind: 'faulty', faults: parsed.error.issues.slice(0, 8).map(({ path, message }) => `${path.length === 0 ? 'the file' : path.join('.')}: ${message}`) };
}

/** The JSON Schema of `shot.json`. */
export function shotJsonSchema(): Readonly<Record<string, unknown>> {
  return { ...z.toJSONSchema(shotFile) };
}
