const rooms = new Map<string, Float32Array>();
/** Rasters in use at once are few; a day of odd ones must not fill the memory. */
const MOST_ROOMS = 16;

/**
 * Values to write over on the way to an answer, never given away: for each `use` and length always the same ones, since fresh
 * memory of the size of a frame costs more than most of what is done in it. Whatever was in them is still there.
 */
export function scratch(use: string, length: number): Float32Array {
  const key = `${use} ${length}`;
  const known = rooms.get(key);
  if (known !== undefined) return known;
  if (rooms.size >= MOST_ROOMS) rooms.clear();
  const room = new Float32Array(length);
  rooms.set(key, room);
  return room;
}
