import type { Clip } from '../material/clip.ts';
import { hasClock, secondsBetween, secondsOfDay } from './recording-clock.ts';
import type { RecordedApart } from './recording-text.ts';

/** A clip among all of the day, and whether its timecode is a clock (see `Recording.clockTrusted`). */
export interface DayPlace {
  readonly clip: Clip;
  readonly clockTrusted: boolean;
}

/** What still counts as near: two hours, a generous time for one set-up, or twenty clips of one roll. Common practice, no source. */
const NEAR = { seconds: 7200, clips: 20 };

/** How far apart two clips of one camera were recorded: by the clock, else in clips of one roll; undefined when neither tells. */
export function placesApart(a: DayPlace, b: DayPlace): RecordedApart | undefined {
  const seconds = a.clockTrusted && b.clockTrusted ? secondsBetween(a.clip, b.clip) : undefined;
  if (seconds !== undefined) return { seconds: Math.abs(seconds) };
  const first = clipNumber(a.clip);
  const second = clipNumber(b.clip);
  if (a.clip.roll === undefined || a.clip.roll !== b.clip.roll || first === undefined || second === undefined) return undefined;
  return { clips: Math.abs(first - second) };
}

/** 0 for the same place, 1 at the edge of what counts as near. */
export function shareOfNear(apart: RecordedApart): number {
  return 'seconds' in apart ? apart.seconds / NEAR.seconds : apart.clips / NEAR.clips;
}

/** Finds the places near another one, nearest first, without looking at all of them. */
export function nearbyFinder<P extends DayPlace>(places: readonly P[]): (to: DayPlace) => readonly { readonly place: P; readonly apart: RecordedApart }[] {
  const files = new Map<string, P[]>();
  for (const place of places) {
    for (const key of keysOf(place, 0)) {
      const file = files.get(key);
      if (file === undefined) files.set(key, [place]);
      else file.push(place);
    }
  }
  return (to) => {
    const found = new Set([...keysOf(to, -1), ...keysOf(to, 0), ...keysOf(to, 1)].flatMap((key) => files.get(key) ?? []));
    return [...found]
      .flatMap((place) => {
        const apart = placesApart(place, to);
        return apart === undefined || shareOfNear(apart) > 1 ? [] : [{ place, apart }];
      })
      .toSorted((a, b) => shareOfNear(a.apart) - shareOfNear(b.apart));
  };
}

/** Where a place is filed: the stretch of the clock it lies in (`away` stretches further on), and its roll. */
function keysOf({ clip, clockTrusted }: DayPlace, away: number): readonly string[] {
  const stretches = 86_400 / NEAR.seconds;
  const stretch = clockTrusted && hasClock(clip) ? [`clock ${(Math.floor(secondsOfDay(clip) / NEAR.seconds) + away + stretches) % stretches}`] : [];
  return clip.roll === undefined ? stretch : [...stretch, `roll ${clip.roll}`];
}

function clipNumber({ clip }: Clip): number | undefined {
  const digits = /\d+/.exec(clip ?? '')?.[0];
  return digits === undefined ? undefined : Number(digits);
}
