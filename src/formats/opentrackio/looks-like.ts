import { decodeText } from '../tables/decode-text.ts';

/** How much of a JSON file tells whether it holds tracking samples: one sample with everything in it is a few thousand bytes. */
export const TELLING_BYTES = 65_536;

/** Whether a file that begins so holds OpenTrackIO samples, of any version, or raw packets of them: other JSON lies beside clips as well. */
export function looksLikeOpenTrackIo(beginning: Uint8Array): boolean {
  const { text } = decodeText(wholeLetters(beginning));
  if (text.trimStart().startsWith('OTrk')) return true;
  return text.includes('"OpenTrackIO"') || (/"transforms"\s*:/u.test(text) && /"timing"\s*:/u.test(text));
}

/** A beginning may end within a letter, which would make all of it look like another encoding. */
function wholeLetters(bytes: Uint8Array): Uint8Array {
  let end = bytes.length;
  while (end > 0 && ((bytes[end - 1] ?? 0) & 0xc0) === 0x80) end -= 1;
  return bytes.length < TELLING_BYTES ? bytes : bytes.subarray(0, Math.max(0, end - 1));
}
