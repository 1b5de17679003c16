import type { Clip } from '../material/clip.ts';
import { dayNumber, hasClock, secondsBetween, secondsOfDay } from './recording-clock.ts';
import type { RecordedApart } from './recording-text.ts';
import { compareText } from './sorted.ts';

/** A clip among all of the day, and whether its timecode is a clock (see `Recording.clockTrusted`). */
export interface DayPlace {
  readonly clip: Clip;
  readonly clockTrusted: boolean;
}

/** A place, and how far from where one looked. */
export interface NearPlace<P extends DayPlace> {
  readonly place: P;
  readonly apart: RecordedApart;
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
export function nearbyFinder<P extends DayPlace>(places: readonly P[]): (to: DayPlace) => readonly NearPlace<P>[] {
  const files = new Map<string, P[]>();
  for (const place of places) {
    for (const key of filedUnder(place)) {
      const file = files.get(key);
      if (file === undefined) files.set(key, [place]);
      else file.push(place);
    }
  }
  return (to) =>
    [...new Set(lookedUpFor(to).flatMap((key) => files.get(key) ?? []))]
      .flatMap((place) => {
        const apart = placesApart(place, to);
        return apart === undefined || shareOfNear(apart) > 1 ? [] : [{ place, apart }];
      })
      .toSorted((a, b) => shareOfNear(a.apart) - shareOfNear(b.apart) || compareText(a.place.clip.id, b.place.clip.id));
}

/** The clock is cut into stretches as long as what counts as near, so whatever is near lies in one stretch or next to it. */
const STRETCHES = 86_400 / NEAR.seconds;

/** A place is filed by its stretch of the clock, once with its date and once for those who know of no date, and by its roll. */
function filedUnder(place: DayPlace): readonly string[] {
  const clock = onClock(place);
  const byClock = clock === undefined ? [] : [`any ${clock.stretch}`, `${clock.day ?? 'no date'} ${clock.stretch}`];
  return [...byClock, ...byRoll(place)];
}

/** Past midnight the date may have gone on, or (a shooting day) have stayed. */
function lookedUpFor(place: DayPlace): readonly string[] {
  const clock = onClock(place);
  if (clock === undefined) return byRoll(place);
  const keys = [-1, 0, 1].flatMap((step) => {
    const stretch = (clock.stretch + step + STRETCHES) % STRETCHES;
    if (clock.day === undefined) return [`any ${stretch}`];
    const nextDay = clock.day + Math.floor((clock.stretch + step) / STRETCHES);
    return [`${clock.day} ${stretch}`, `${nextDay} ${stretch}`, `no date ${stretch}`];
  });
  return [...keys, ...byRoll(place)];
}

function onClock({ clip, clockTrusted }: DayPlace): { readonly day: number | undefined; readonly stretch: number } | undefined {
  if (!clockTrusted || !hasClock(clip)) return undefined;
  return { day: dayNumber(clip.date), stretch: Math.floor(secondsOfDay(clip) / NEAR.seconds) };
}

function byRoll({ clip }: DayPlace): readonly string[] {
  return clip.roll === undefined ? [] : [`roll ${clip.roll}`];
}

function clipNumber({ clip }: Clip): number | undefined {
  const digits = /\d+/.exec(clip ?? '')?.[0];
  return digits === undefined ? undefined : Number(digits);
}
