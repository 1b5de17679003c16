import type { Timecode } from '../../core/timecode/timecode.ts';
import { formatTimecode, parseLabelParts } from '../../core/timecode/timecode.ts';

/**
 * A label as a picture's header can hold it. SMPTE ST 12-1 has two digits of frames up to 29: above 30 labels a second a label
 * stands for a pair (ST 12-1) or for four or five pictures (ST 12-3), and `phase` tells which of them the picture is.
 */
export interface HeaderLabel {
  readonly label: string;
  readonly phase: number;
}

/** The label the header of a picture gets: the clip's own up to 30 labels a second, above it the one of its pair, or of its four or five. */
export function headerLabel({ frame, format }: Timecode): HeaderLabel {
  const perLabel = Math.ceil(format.base / 30);
  const base = format.base / perLabel;
  if (!Number.isInteger(base)) return { label: formatTimecode({ frame, format }), phase: 0 };
  const label = formatTimecode({ frame: Math.floor(frame / perLabel), format: { base, drop: format.drop } });
  return { label, phase: ((frame % perLabel) + perLabel) % perLabel };
}

/**
 * The 32-bit word of a label: binary-coded digits HHMMSSFF (SMPTE ST 268-1; "OpenEXR Standard Attributes", TV60 packing), bit 6
 * set for drop frame. `second` sets bit 15, by which ST 12-1 marks the second picture of a pair; only OpenEXR has a place for it.
 */
export function timecodeWord(label: string, second = false): number {
  const { hours, minutes, seconds, frames, separatorDrop } = parseLabelParts(label);
  const word = (bcd(hours) << 24) | (bcd(minutes) << 16) | (bcd(seconds) << 8) | bcd(frames) | (separatorDrop ? 0x40 : 0) | (second ? 0x8000 : 0);
  return word >>> 0;
}

function bcd(value: number): number {
  return (Math.floor(value / 10) << 4) | (value % 10);
}
