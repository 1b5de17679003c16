import type { Chosen, Clip, ExposureFacts, LensFacts, PositionFacts } from '../../core/material/clip.ts';
import type { FrameTrack, TrackField } from '../../core/material/statement.ts';
import type { Slate } from '../../core/slate/slate.ts';
import { formatRate } from '../../core/timecode/rate.ts';
import { formatTimecode } from '../../core/timecode/timecode.ts';
import { compareText, sortedBy, tidyNumber } from './order.ts';
import type { ReportSource } from './report-sources.ts';
import { sourcesOf, sourceWords } from './report-sources.ts';

/** One clip of the report: what gemel goes by, and in `sources` everything that was read. Absent facts are null. */
export type ReportClip = ReturnType<typeof clipOf>;

type Tidy = number | string | null;

/** A clip as the report holds it. */
export function clipOf(clip: Clip) {
  return {
    id: clip.id,
    file: clip.file,
    kind: clip.kind,
    camera: clip.camera ?? null,
    roll: clip.roll ?? null,
    clip: clip.clip ?? null,
    slate: slateOf(clip.slate),
    forSlate: slateOf(clip.forSlate),
    role: clip.role,
    roleConfidence: tidyNumber(clip.roleConfidence),
    roleEvidence: clip.roleEvidence.map(({ role, kind, weight, words }) => ({ role, kind, weight: tidyNumber(weight), words })),
    circled: clip.circled ?? null,
    method: clip.method ?? null,
    date: clip.date ?? null,
    start: clip.start === undefined ? null : formatTimecode(clip.start),
    frames: clip.frames ?? null,
    rate: clip.rate === undefined ? null : formatRate(clip.rate),
    sensorRate: clip.sensorRate === undefined ? null : formatRate(clip.sensorRate),
    timecodeRate: clip.timecodeRate === undefined ? null : formatRate(clip.timecodeRate),
    dropFrame: clip.start?.format.drop ?? clip.timecodeFormat?.drop ?? null,
    complete: clip.complete,
    completeness: clip.completeness,
    usable: clip.usable,
    decodable: clip.decodable,
    sizeBytes: clip.sizeBytes,
    lens: lensOf(clip.lens),
    exposure: exposureOf(clip.exposure),
    position: positionOf(clip.position),
    picture: {
      raster: clip.picture.raster === undefined ? null : { width: clip.picture.raster.value.width, height: clip.picture.raster.value.height },
      codec: clip.picture.codec?.value ?? null,
      cameraModel: clip.picture.cameraModel?.value ?? null,
      cameraSerial: clip.picture.cameraSerial?.value ?? null,
    },
    sequence: sequenceOf(clip),
    frameTables: sortedBy(clip.tracks, ({ source }) => sourceWords(source)).map(frameTableOf),
    notes: clip.notes,
    sources: sourcesOf(clip.statements) satisfies Readonly<Record<string, readonly ReportSource[]>>,
  };
}

function slateOf(slate: Slate | undefined) {
  if (slate === undefined) return null;
  const { scene, setUp, take, text, prefix, suffix, pickUp, series } = slate;
  return { scene, setup: setUp, take: take ?? null, text, prefix, suffix, pickUp, series };
}

function numberOf(chosen: Chosen<number> | undefined): Tidy {
  return chosen === undefined ? null : tidyNumber(chosen.value);
}

function lensOf({ model, serial, focalLengthMm, focusDistanceM, stop, filters, squeeze }: LensFacts) {
  return {
    model: model?.value ?? null,
    serial: serial?.value ?? null,
    focalLengthMm: numberOf(focalLengthMm),
    focusDistanceM: numberOf(focusDistanceM),
    stop: stop === undefined ? null : { kind: stop.value.kind, number: tidyNumber(stop.value.number) },
    filters: filters === undefined ? null : { text: filters.value.text, ndDensity: filters.value.ndDensity === undefined ? null : tidyNumber(filters.value.ndDensity) },
    squeeze: numberOf(squeeze),
  };
}

function exposureOf({ shutterDeg, ei, whiteBalanceK, tint }: ExposureFacts) {
  return { shutterDeg: numberOf(shutterDeg), ei: numberOf(ei), whiteBalanceK: numberOf(whiteBalanceK), tint: numberOf(tint) };
}

function positionOf({ heightM, tiltDeg, rollDeg, subjectDistanceM, backgroundDistanceM }: PositionFacts) {
  return {
    heightM: numberOf(heightM),
    tiltDeg: numberOf(tiltDeg),
    rollDeg: numberOf(rollDeg),
    subjectDistanceM: numberOf(subjectDistanceM),
    backgroundDistanceM: numberOf(backgroundDistanceM),
  };
}

function sequenceOf({ sequence }: Clip) {
  if (sequence === undefined) return null;
  const { first, last, padding, missing } = sequence;
  return { first, last, padding, missing: missing.map(({ start, end }) => ({ start, end })) };
}

/** What a frame table says, in short: the values themselves stay where they were read. */
function frameTableOf(track: FrameTrack) {
  const fields = Object.entries(track.values) as readonly (readonly [TrackField, readonly number[]])[];
  return {
    from: sourceWords(track.source),
    frames: track.frames,
    fields: fields.toSorted(([a], [b]) => compareText(a, b)).map(([field, values]) => ({ field, ...extremesOf(values) })),
  };
}

/** Lowest, highest, first and last value of a track, and on how many frames it stands. */
function extremesOf(values: readonly number[]) {
  const known = values.filter((value) => !Number.isNaN(value));
  const edge = (value: number | undefined): Tidy => (value === undefined ? null : tidyNumber(value));
  return {
    known: known.length,
    first: edge(known[0]),
    last: edge(known.at(-1)),
    lowest: edge(known.length === 0 ? undefined : known.reduce((a, b) => Math.min(a, b))),
    highest: edge(known.length === 0 ? undefined : known.reduce((a, b) => Math.max(a, b))),
  };
}
