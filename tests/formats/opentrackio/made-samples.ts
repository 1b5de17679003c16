/** A sample of an invented tracker on an invented stage, valid by the schema of OpenTrackIO 1.0; `changes` replaces top-level parts. */
export function madeSample(frame: number, changes: Readonly<Record<string, unknown>> = {}): Record<string, unknown> {
  return {
    protocol: { name: 'OpenTrackIO', version: [1, 0, 1] },
    sampleId: `urn:uuid:5d0c2f3e-0000-4000-8000-${String(frame).padStart(12, '0')}`,
    sourceId: 'urn:uuid:7a1b9c52-3d4e-4f60-8a71-92b3c4d5e6f7',
    sourceNumber: 1,
    tracker: { slate: '27B-3', recording: true },
    timing: { mode: 'external', sampleRate: { num: 24, denom: 1 }, sequenceNumber: frame, timecode: labelOf(frame) },
    lens: { pinholeFocalLength: 35.2, focusDistance: 2.4, fStop: 2.6, tStop: 2.8, entrancePupilOffset: 0.09 },
    transforms: [transform('Dolly', { x: 0, y: 0.01 * frame, z: 0 }), transform('Head', { x: 0, y: 0, z: 1.42 }, { pan: 0, tilt: -2, roll: 0 })],
    ...changes,
  };
}

/** 10:00:00:00 and so many frames on, at 24 labels a second unless told otherwise. */
export function labelOf(frame: number, rate = { num: 24, denom: 1 }, base = 24): Record<string, unknown> {
  const seconds = Math.floor(frame / base);
  return { hours: 10, minutes: Math.floor(seconds / 60), seconds: seconds % 60, frames: frame % base, frameRate: rate };
}

export function transform(id: string, translation: Readonly<Record<string, unknown>>, rotation: Readonly<Record<string, unknown>> = { pan: 0, tilt: 0, roll: 0 }): Record<string, unknown> {
  return { id, translation, rotation };
}

/** What comes once in a recording, about camera and lens. */
export const ONCE = {
  camera: {
    label: 'A', model: 'Tern 6', serialNumber: 'T6-0042', activeSensorPhysicalDimensions: { width: 24.89, height: 13.13 }, activeSensorResolution: { width: 4096, height: 2160 },
    captureFrameRate: { num: 24, denom: 1 }, anamorphicSqueeze: { num: 1, denom: 1 }, isoSpeed: 800, shutterAngle: 180,
  },
  lens: { model: 'Plover 35', serialNumber: 'P35-7', nominalFocalLength: 35 },
};
