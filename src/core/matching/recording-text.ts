/** How far apart two clips were recorded: seconds from start to start by the clock, or clips apart where there is no clock. */
export type RecordedApart = { readonly seconds: number } | { readonly clips: number };

/** That distance as people say it: "4 min 10 s", "1 h 5 min", "3 clips". */
export function passedText(apart: RecordedApart): string {
  if ('clips' in apart) return apart.clips === 1 ? '1 clip' : `${apart.clips} clips`;
  const seconds = Math.round(apart.seconds);
  const minutes = Math.floor(seconds / 60);
  if (minutes === 0) return `${seconds} s`;
  if (minutes < 60) return seconds % 60 === 0 ? `${minutes} min` : `${minutes} min ${seconds % 60} s`;
  return minutes % 60 === 0 ? `${minutes / 60} h` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}
