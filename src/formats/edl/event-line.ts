/** The columns of one event line, times as written. */
export interface EventLine {
  readonly line: number;
  readonly number: string;
  readonly reel: string;
  readonly channel: string;
  /** "C", "D", "W001", "K", "KB", "KO". */
  readonly type: string;
  /** Frames of a transition; 0 without one. */
  readonly length: number;
  /** Source in, source out, record in, record out. */
  readonly times: readonly [string, string, string, string];
  readonly reelHasSpaces: boolean;
}

/** What a line that should be an event lacks. */
export interface LineFault {
  readonly found: string;
  readonly expected: string;
}

export const EVENT_FORM = '001  REEL  V  C  source in  source out  record in  record out, a transition with its length after the type';

const TYPE = /^(?:C|D|W\d{1,3}|K[BO]?)$/u;
const CHANNEL = /^(?:V\d{0,2}|B|A\d{0,2}|AA|NONE|(?:A\d{0,2}|AA)\/V\d{0,2})$/u;
const TIME = /^(?:\d{1,2}[:;]\d{1,2}[:;]\d{1,2}[:;.,]\d{1,3}|\d{1,9})$/u;

/** Whether a line begins as an event does, with its number. */
export function looksLikeEvent(text: string): boolean {
  return /^\s*\d+[A-Za-z]?\s/u.test(text);
}

/** Whether a line holds two timecodes or more: an event whose number was spoiled does, and no note is lost for it. */
export function holdsTimes(text: string): boolean {
  return (text.match(/(?<![\d:;])\d{1,2}[:;]\d{1,2}[:;]\d{1,2}(?:[:;.,]\d{1,3})?(?![\d:;])/gu)?.length ?? 0) >= 2;
}

/**
 * Reads an event by its words, not by its columns: the last four are times, the first is the number, and of those between the
 * channel and the type are found from the right, since long reels push everything along and some carry spaces.
 */
export function parseEventLine(text: string, line: number): EventLine | LineFault {
  const words = text.trim().split(/\s+/u);
  const times = words.slice(-4);
  const number = words[0] ?? '';
  if (!/^\d+$/u.test(number)) return { found: `event number "${number}"`, expected: 'a number of digits alone' };
  if (words.length < 8) return { found: `${words.length} columns`, expected: `8, or 9 for a transition: ${EVENT_FORM}` };
  const [sourceIn = '', sourceOut = '', recordIn = '', recordOut = ''] = times;
  const bad = times.find((time) => !TIME.test(time));
  if (bad !== undefined) return { found: `"${bad}" where a timecode belongs`, expected: `four timecodes at the end: ${EVENT_FORM}` };
  const middle = words.slice(1, -4);
  const withLength = /^\d{1,4}$/u.test(middle.at(-1) ?? '') && middle.length > 3;
  const [channel = '', type = ''] = withLength ? middle.slice(-3, -1) : middle.slice(-2);
  const reel = middle.slice(0, withLength ? -3 : -2);
  if (!TYPE.test(type.toUpperCase())) return { found: `type "${type}"`, expected: 'C (cut), D (dissolve), W and a number (wipe), or K, KB, KO (key)' };
  if (!CHANNEL.test(channel.toUpperCase())) return { found: `channel "${channel}"`, expected: 'V, V1, V2 …, B, A, AA, AA/V or NONE' };
  if (reel.length === 0) return { found: 'no reel', expected: EVENT_FORM };
  const length = withLength ? Number(middle.at(-1)) : 0;
  if (/^[DW]/iu.test(type) && length === 0) return { found: `type ${type} without a length`, expected: 'the frames of the transition after its type, for example "D 010"' };
  return {
    line, number, reel: reel.join(' '), channel: channel.toUpperCase(), type: type.toUpperCase(), length,
    times: [sourceIn, sourceOut, recordIn, recordOut], reelHasSpaces: reel.length > 1,
  };
}

/** The picture track of a channel, "V1" where it has no number; undefined when it carries sound alone. */
export function trackOf(channel: string): string | undefined {
  if (channel === 'B') return 'V1';
  const video = /V(\d{0,2})$/u.exec(channel);
  if (video === null) return undefined;
  return `V${Number(video[1] === '' ? '1' : video[1])}`;
}
