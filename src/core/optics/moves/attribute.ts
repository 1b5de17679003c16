import type { PicturePoint } from '../projection.ts';
import { aimOf, orientation } from '../projection.ts';
import type { Nearness } from './frame-difference.ts';
import { frameDifference } from './frame-difference.ts';
import { figuresOf } from './move-figures.ts';
import type { Posed } from './posed-move.ts';
import { matrixOf, quaternionOf } from './quaternion.ts';

/** What of a move may be out: where the camera was along the stage's axes, how it was turned, its focal length. */
export type Channel = 'side' | 'height' | 'depth' | 'pan' | 'tilt' | 'roll' | 'zoom';

export const CHANNELS = ['side', 'height', 'depth', 'pan', 'tilt', 'roll', 'zoom'] as const satisfies readonly Channel[];

/** By how much the rms on the near plane would fall, px, were one channel as in the first move; below 0 when the channel makes up for another. */
export interface ChannelShare {
  readonly channel: Channel;
  readonly dropPx: number;
}

/** A frame of both moves that lie over each other. */
export interface PosePair {
  readonly first: Posed;
  readonly second: Posed;
}

/** Which channel the difference comes from, the one that would help most first. */
export function attribute(pairs: readonly PosePair[], points: readonly PicturePoint[], nearness: Nearness): readonly ChannelShare[] {
  const whole = rmsOf(pairs, points, nearness);
  const shares = CHANNELS.map((channel) => ({
    channel,
    dropPx: whole - rmsOf(pairs.map(({ first, second }) => ({ first, second: withChannel(first, second, channel) })), points, nearness) + 0,
  }));
  return shares.toSorted((a, b) => b.dropPx - a.dropPx);
}

/** The second pose with one channel of the first. */
function withChannel(first: Posed, second: Posed, channel: Channel): Posed {
  switch (channel) {
    case 'side':
      return { ...second, xMm: first.xMm };
    case 'height':
      return { ...second, yMm: first.yMm };
    case 'depth':
      return { ...second, zMm: first.zMm };
    case 'zoom':
      return { ...second, focalX: first.focalX, focalY: first.focalY };
    default: {
      const key = `${channel}Deg` as const;
      return { ...second, ...quaternionOf(orientation({ ...aimOf(matrixOf(second)), [key]: aimOf(matrixOf(first))[key] })) };
    }
  }
}

function rmsOf(pairs: readonly PosePair[], points: readonly PicturePoint[], nearness: Nearness): number {
  const differences = pairs.flatMap(({ first, second }) => frameDifference(first, second, points, nearness) ?? []);
  return figuresOf(differences, points.length).near.rmsPx;
}
