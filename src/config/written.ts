import { z } from 'zod';
import { FIELDS, headingOf } from '../core/material/heading.ts';
import { FINDING_CODES } from '../core/material/finding.ts';
import type { FindingGroup } from '../core/material/finding.ts';

// What a crew types. Every key may be left out: the default pipeline answers for it.
// Descriptions end up in error messages ("expected …") and in the JSON Schema; examples become the remedy.

export const WRITTEN_ROLES = ['lead', 'swapped', 'clean', 'reference', 'element'] as const;
/** The groups of checks a method can leave out, as the findings are grouped. */
const CHECK_GROUPS = Object.keys(FINDING_CODES).filter((group): group is FindingGroup => group in FINDING_CODES);
const SEVERITIES = ['stop', 'warn', 'note'] as const;

// Words become parts of expressions that search every note: they stand for themselves, and there is an end to them.
const word = z.string().trim().min(1).max(200).meta({ description: 'a word or a phrase of at most 200 characters', examples: ['clean plate'] });
const words = z.array(word).max(1000).meta({ description: 'a list of at most 1000 words', examples: [['clean plate', 'CP']] });
const path = z.string().trim().min(1).meta({ description: 'a path, from the folder of the pipeline file', examples: ['reports/shots.csv'] });
const yesNo = z.boolean().meta({ description: 'true or false', examples: [true] });
const wholeFrames = z.int().min(0).max(100_000).meta({ description: 'a whole number of frames, 0 or more', examples: [8] });
const roles = z
  .array(z.enum(WRITTEN_ROLES).meta({ description: `one of ${WRITTEN_ROLES.join(', ')}`, examples: ['clean'] }))
  .meta({ description: `a list of roles out of ${WRITTEN_ROLES.join(', ')}`, examples: [['lead', 'swapped', 'clean']] });

const handles = z
  .strictObject({ head: wholeFrames.optional(), tail: wholeFrames.optional() })
  .meta({ description: 'a map of head and tail, in frames', examples: [{ head: 8, tail: 8 }] });

const limit = z.number().min(0).meta({ description: 'a number, 0 or more', examples: [2] });
const tolerance = z
  .strictObject({ warn: limit.optional(), stop: limit.optional() })
  .meta({ description: 'a map of warn and stop: above warn a person must look, above stop it will fail', examples: [{ warn: 0.1, stop: 1 }] });

const tolerances = z
  .strictObject({
    shift_px: tolerance.optional(),
    parallax_px: tolerance.optional(),
    blur_px: tolerance.optional(),
    exposure_stops: tolerance.optional(),
    focal_length_percent: tolerance.optional(),
    focus_dioptre: tolerance.optional(),
    stop_stops: tolerance.optional(),
    nd_stops: tolerance.optional(),
    shutter_deg: tolerance.optional(),
    ei_stops: tolerance.optional(),
    white_balance_k: tolerance.optional(),
    height_mm: tolerance.optional(),
    tilt_deg: tolerance.optional(),
    roll_deg: tolerance.optional(),
    distance_mm: tolerance.optional(),
    sources_percent: limit.optional(),
    length_frames: wholeFrames.optional(),
  })
  .meta({ description: 'a map of what the checks allow, the unit in the name', examples: [{ height_mm: { warn: 2, stop: 30 } }] });

const method = z
  .strictObject({
    description: z.string().trim().min(1).meta({ description: 'one line for people', examples: ['plain split line'] }).optional(),
    required: roles.optional(),
    wanted: roles.optional(),
    moving_camera: yesNo.optional(),
    repeated_move: yesNo.optional(),
    element_replaces_swapped: yesNo.optional(),
    skip_checks: z
      .array(z.enum(CHECK_GROUPS).meta({ description: `one of ${CHECK_GROUPS.join(', ')}`, examples: ['position'] }))
      .meta({ description: `a list of groups of checks out of ${CHECK_GROUPS.join(', ')}`, examples: [['position']] })
      .optional(),
    sync_assumed: z.enum(SEVERITIES).meta({ description: 'note, warn or stop', examples: ['note'] }).optional(),
    references: words.optional(),
  })
  .meta({
    description: 'a map of what the method needs',
    examples: [{ description: 'plain split line', required: ['lead', 'swapped', 'clean'] }],
  });

const slates = z
  .strictObject({
    style: z.enum(['scene-letter', 'running', 'either']).meta({ description: 'scene-letter, running or either', examples: ['either'] }).optional(),
    skipped_letters: z.string().regex(/^[A-Za-z]*$/).meta({ description: 'letters never used for set-ups, without spaces', examples: ['IO'] }).optional(),
    prefixes: words.optional(),
    suffixes: words.optional(),
    take_words: words.optional(),
    pick_up_words: words.optional(),
    series_words: words.optional(),
    for_words: words.optional(),
  })
  .meta({ description: 'a map of how slates are written', examples: [{ style: 'scene-letter' }] });

const roleWords = z
  .strictObject({ lead: words.optional(), swapped: words.optional(), clean: words.optional(), reference: words.optional(), element: words.optional() })
  .meta({ description: 'a map of roles to the words that mean them', examples: [{ clean: ['empty frame'] }] });

const headings = z
  .strictObject(Object.fromEntries(FIELDS.map((field) => [headingOf(field), words.optional()])))
  .meta({ description: 'a map of canonical headings to the other names they go by', examples: [{ focal_length: ['Focal (mm)'] }] });

const SHOT_CODE_SOURCES = ['marker', 'comment', 'clip-name', 'shot-list'] as const;
const shotCodes = z
  .array(z.enum(SHOT_CODE_SOURCES).meta({ description: `one of ${SHOT_CODE_SOURCES.join(', ')}`, examples: ['marker'] }))
  .meta({ description: `a list out of ${SHOT_CODE_SOURCES.join(', ')}, the first that has a code counts`, examples: [['marker', 'shot-list']] });
const shotCodePatterns = z
  .array(z.string().regex(/^[A-Za-z0-9_@#. -]{2,60}$/u).meta({ description: 'letters, digits, "_", "-", "." and spaces, where "@" is a letter and "#" a digit', examples: ['@@@_###_####'] }))
  .max(100)
  .meta({ description: 'a list of at most 100 patterns of shot codes', examples: [['@@@_###_####']] });

/** A pipeline file as typed. */
export const writtenPipeline = z
  .strictObject({
    show: word.meta({ description: 'the name of the show', examples: ['Saltmarsh Row'] }).optional(),
    media: z.array(path).meta({ description: 'a list of folders', examples: [['day03']] }).optional(),
    out: path.meta({ description: 'a folder', examples: ['gemel-out'] }).optional(),
    base_rate: z
      .union([z.number().positive(), z.string().regex(/^\d+(\.\d+)?(\/\d+)?$/)])
      .nullable()
      .meta({ description: 'a frame rate, or nothing when shows mix rates', examples: [24, '24000/1001'] })
      .optional(),
    handles: handles.optional(),
    min_clean_frames: wholeFrames.optional(),
    not_on_record: z.enum(['warn', 'note']).meta({ description: 'warn or note', examples: ['warn'] }).optional(),
    default_method: word.meta({ description: 'the name of a method', examples: ['split'] }).optional(),
    methods: z
      .record(
        z.string().regex(/^[a-z][a-z0-9-]*$/).meta({ description: 'a method name in small letters, digits and "-"', examples: ['split'] }),
        method,
      )
      .meta({ description: 'a map of methods by name', examples: [{ split: { description: 'plain split line', required: ['lead', 'swapped', 'clean'] } }] })
      .optional(),
    tolerances: tolerances.optional(),
    slates: slates.optional(),
    role_words: roleWords.optional(),
    headings: headings.optional(),
    mappings: z.array(path).meta({ description: 'a list of mapping files', examples: [['mappings/new-camera.yaml']] }).optional(),
    sensor_modes: z.array(path).meta({ description: 'a list of files with sensor sizes', examples: [['sensor-modes.yaml']] }).optional(),
    ambiguity_margin: z.number().min(0).meta({ description: 'a cost, 0 or more', examples: [1] }).optional(),
    settle_seconds: z.number().min(0).meta({ description: 'a number of seconds, 0 or more', examples: [10] }).optional(),
    vendor: word.nullable().meta({ description: 'the name of the vendor, or nothing', examples: ['Pale Gate Pictures'] }).optional(),
    shot_list: path.nullable().meta({ description: 'a CSV file, or nothing', examples: ['shots.csv'] }).optional(),
    cut: z.array(path).meta({ description: 'a list of cuts, EDL or OTIO files', examples: [['cut/saltmarsh-r1.edl']] }).optional(),
    shot_codes: shotCodes.optional(),
    shot_code_patterns: shotCodePatterns.optional(),
    first_frame: wholeFrames.meta({ description: 'a frame number, 0 or more', examples: [1001] }).optional(),
    corrections: path.nullable().meta({ description: 'a YAML file, or nothing', examples: ['corrections.yaml'] }).optional(),
    sheet_template: word.meta({ description: 'the name of a sheet template', examples: ['sheet'] }).optional(),
    paper: z.enum(['A4', 'Letter']).nullable().meta({ description: 'A4 or Letter', examples: ['A4'] }).optional(),
    sheets: yesNo.optional(),
    verify_hashes: yesNo.optional(),
    pictures: yesNo.nullable().optional(),
    proxies: z.array(path).meta({ description: 'a list of folders', examples: [['proxies']] }).optional(),
  })
  .meta({ description: 'a map of settings', examples: [{ show: 'Saltmarsh Row', media: ['day03'] }] });

export type WrittenPipeline = z.infer<typeof writtenPipeline>;
export type WrittenMethod = z.infer<typeof method>;
export type WrittenTolerances = z.infer<typeof tolerances>;
export type WrittenSlates = z.infer<typeof slates>;

/** The JSON Schema of a pipeline file, for editors that check while one types. */
export function pipelineJsonSchema(): Readonly<Record<string, unknown>> {
  return { ...z.toJSONSchema(writtenPipeline, { io: 'input' }), title: 'gemel pipeline' };
}
