import type { PlannedClip } from './day.ts';
import { ease } from './scene.ts';

/** What an invented tracker recorded of a clip: an OpenTrackIO 1.0 sample for each frame, one a line, the camera as the picture was drawn. */
export function trackingOf(clip: PlannedClip, labelOf: (frame: number) => string): string {
  const { facts, view, fps, frames, tracked = { focusTo: facts.focus, lateFrames: 0 } } = clip;
  const lines = Array.from({ length: frames }, (_, frame) => {
    const along = ease(frame / frames);
    const pulled = ease(Math.min(1, Math.max(0, (frame - tracked.lateFrames - 20) / 24)));
    const [hours, minutes, seconds, count] = labelOf(frame).split(':').map(Number);
    return JSON.stringify({
      protocol: { name: 'OpenTrackIO', version: [1, 0, 1] },
      sourceId: 'urn:uuid:3f1d7c60-4a52-4b8e-9c11-6d0e2a7b9f43',
      sourceNumber: 1,
      ...(frame === 0 ? { static: STATIC } : {}),
      timing: { mode: 'external', sampleRate: { num: fps, denom: 1 }, sequenceNumber: frame, timecode: { hours, minutes, seconds, frames: count, frameRate: { num: fps, denom: 1 } } },
      lens: { pinholeFocalLength: facts.focal, focusDistance: rounded(facts.focus + (tracked.focusTo - facts.focus) * pulled), tStop: Number(facts.stop.slice(1)) },
      transforms: [{
        translation: { x: rounded(view.sideM + view.travelM * along), y: 0, z: rounded(view.heightM + view.riseM * along) },
        rotation: { pan: 0, tilt: view.tiltDeg, roll: view.rollDeg },
      }],
    });
  });
  return `${lines.join('\n')}\n`;
}

/** Once in a recording. */
const STATIC = { camera: { label: 'A', activeSensorPhysicalDimensions: { width: 24.89, height: 14 } } };

function rounded(metres: number): number {
  return Math.round(metres * 1e5) / 1e5;
}
