import type { Role } from '../core/material/clip.ts';
import { FIELDS, headingOf, normaliseHeading } from '../core/material/heading.ts';
import type { Method } from '../core/material/method.ts';
import type { Field } from '../core/material/statement.ts';
import type { Tolerance, Tolerances } from '../core/material/tolerance.ts';
import type { SlateGrammar } from '../core/slate/grammar.ts';
import { rateFromText } from '../core/timecode/rate.ts';
import { table } from './table.ts';
import type { Config } from './resolved.ts';
import { WRITTEN_ROLES } from './written.ts';
import type { WrittenMethod, WrittenPipeline, WrittenSlates, WrittenTolerances } from './written.ts';

/** What a crew wrote, laid over the defaults; `null` takes a default away. */
export function layOver(written: WrittenPipeline, base: Config, from: string, resolvePath: (written: string) => string): Config {
  const orBase = <T>(value: T | null | undefined, fallback: T | undefined): T | undefined => (value === undefined ? fallback : (value ?? undefined));
  const resolved = (path: string | null | undefined): string | null | undefined => (typeof path === 'string' ? resolvePath(path) : path);
  return {
    from,
    show: written.show ?? base.show,
    media: written.media?.map(resolvePath) ?? base.media,
    out: written.out === undefined ? base.out : resolvePath(written.out),
    baseRate: written.base_rate === undefined ? base.baseRate : rateFromText(String(written.base_rate)),
    handles: { head: written.handles?.head ?? base.handles.head, tail: written.handles?.tail ?? base.handles.tail },
    minCleanFrames: written.min_clean_frames ?? base.minCleanFrames,
    notOnRecord: written.not_on_record ?? base.notOnRecord,
    defaultMethod: written.default_method ?? base.defaultMethod,
    methods: layMethods(written.methods ?? {}, base.methods),
    tolerances: layTolerances(written.tolerances ?? {}, base.tolerances),
    slateGrammar: laySlates(written.slates ?? {}, base.slateGrammar),
    roleWords: layRoleWords(written.role_words ?? {}, base.roleWords),
    headings: layHeadings(written.headings ?? {}, base.headings),
    mappingFiles: [...base.mappingFiles, ...(written.mappings ?? []).map(resolvePath)],
    mappings: base.mappings,
    sensorModeFiles: [...base.sensorModeFiles, ...(written.sensor_modes ?? []).map(resolvePath)],
    sensorModes: base.sensorModes,
    ambiguityMargin: written.ambiguity_margin ?? base.ambiguityMargin,
    settleSeconds: written.settle_seconds ?? base.settleSeconds,
    vendor: orBase(written.vendor, base.vendor),
    cuts: written.cut?.map(resolvePath) ?? base.cuts,
    shotCodes: written.shot_codes ?? base.shotCodes,
    shotCodePatterns: written.shot_code_patterns ?? base.shotCodePatterns,
    firstFrame: written.first_frame ?? base.firstFrame,
    shotList: orBase(resolved(written.shot_list), base.shotList),
    correctionsFile: orBase(resolved(written.corrections), base.correctionsFile),
    corrections: base.corrections,
    sheetTemplate: written.sheet_template ?? base.sheetTemplate,
    paper: orBase(written.paper, base.paper),
    sheets: written.sheets ?? base.sheets,
    verifyHashes: written.verify_hashes ?? base.verifyHashes,
    pictures: orBase(written.pictures, base.pictures),
    proxies: written.proxies?.map(resolvePath) ?? base.proxies,
  };
}

function layMethods(written: Readonly<Record<string, WrittenMethod>>, base: Readonly<Record<string, Method>>): Readonly<Record<string, Method>> {
  const own = Object.entries(written).map(([name, method]) => [name, layMethod(name, method, base[name])] as const);
  return table([...Object.entries(base), ...own]);
}

function layMethod(name: string, written: WrittenMethod, base: Method | undefined): Method {
  return {
    name,
    description: written.description ?? base?.description ?? name,
    required: written.required ?? base?.required ?? [],
    wanted: written.wanted ?? base?.wanted ?? [],
    movingCamera: written.moving_camera ?? base?.movingCamera ?? false,
    repeatedMove: written.repeated_move ?? base?.repeatedMove ?? false,
    elementReplacesSwapped: written.element_replaces_swapped ?? base?.elementReplacesSwapped ?? false,
    skipChecks: written.skip_checks ?? base?.skipChecks ?? [],
    syncAssumed: written.sync_assumed ?? base?.syncAssumed ?? 'note',
    references: written.references ?? base?.references ?? [],
  };
}

function layTolerances(written: WrittenTolerances, base: Tolerances): Tolerances {
  const lay = (own: WrittenTolerances['height_mm'], under: Tolerance): Tolerance => ({ warn: own?.warn ?? under.warn, stop: own?.stop ?? under.stop });
  return {
    shiftPx: lay(written.shift_px, base.shiftPx),
    parallaxPx: lay(written.parallax_px, base.parallaxPx),
    blurPx: lay(written.blur_px, base.blurPx),
    exposureStops: lay(written.exposure_stops, base.exposureStops),
    focalLengthPercent: lay(written.focal_length_percent, base.focalLengthPercent),
    focusDioptre: lay(written.focus_dioptre, base.focusDioptre),
    stopStops: lay(written.stop_stops, base.stopStops),
    ndStops: lay(written.nd_stops, base.ndStops),
    shutterDeg: lay(written.shutter_deg, base.shutterDeg),
    eiStops: lay(written.ei_stops, base.eiStops),
    whiteBalanceK: lay(written.white_balance_k, base.whiteBalanceK),
    heightMm: lay(written.height_mm, base.heightMm),
    tiltDeg: lay(written.tilt_deg, base.tiltDeg),
    rollDeg: lay(written.roll_deg, base.rollDeg),
    distanceMm: lay(written.distance_mm, base.distanceMm),
    sourcesPercent: written.sources_percent ?? base.sourcesPercent,
    lengthFrames: written.length_frames ?? base.lengthFrames,
  };
}

function laySlates(written: WrittenSlates, base: SlateGrammar): SlateGrammar {
  return {
    style: written.style ?? base.style,
    skippedLetters: written.skipped_letters ?? base.skippedLetters,
    prefixes: extend(base.prefixes, written.prefixes),
    suffixes: extend(base.suffixes, written.suffixes),
    takeWords: extend(base.takeWords, written.take_words),
    pickUpWords: extend(base.pickUpWords, written.pick_up_words),
    seriesWords: extend(base.seriesWords, written.series_words),
    forWords: extend(base.forWords, written.for_words),
  };
}

/** Words are compared without regard to case, so a repeated one is not added again. */
function extend(base: readonly string[], own: readonly string[] = []): readonly string[] {
  const seen = new Set<string>();
  return [...base, ...own].filter((word) => !seen.has(word.toLowerCase()) && seen.add(word.toLowerCase()));
}

function layRoleWords(written: NonNullable<WrittenPipeline['role_words']>, base: Config['roleWords']): Config['roleWords'] {
  const roles = new Map<string, Role>(base.map(({ word, role }) => [word, role]));
  for (const role of WRITTEN_ROLES) for (const word of written[role] ?? []) roles.set(word.toLowerCase(), role);
  return [...roles].map(([word, role]) => ({ word, role })).toSorted((a, b) => (a.word < b.word ? -1 : 1));
}

function layHeadings(written: Readonly<Record<string, readonly string[] | undefined>>, base: Readonly<Record<string, Field>>): Config['headings'] {
  const own = FIELDS.flatMap((field) => (written[headingOf(field)] ?? []).map((alias) => [normaliseHeading(alias), field] as const));
  const canonical = FIELDS.map((field) => [normaliseHeading(headingOf(field)), field] as const);
  return table([...Object.entries(base), ...own, ...canonical]);
}
