import { UnreadableXmlError } from '../../core/material/errors.ts';

/**
 * The text of an XML document: by its byte order mark, else by the encoding it declares, else UTF-8 (XML 1.0, appendix F).
 * @throws {UnreadableXmlError} when the encoding is unknown or the bytes are not of it.
 */
export function decodeXml(bytes: Uint8Array): string {
  const encoding = markedEncoding(bytes) ?? declaredEncoding(bytes) ?? 'utf-8';
  try {
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch (cause) {
    throw new UnreadableXmlError(`it is not text in the encoding ${encoding}`, undefined, { cause });
  }
}

function markedEncoding(bytes: Uint8Array): string | undefined {
  const [first, second, third] = bytes;
  if (first === 0xff && second === 0xfe) return 'utf-16le';
  if (first === 0xfe && second === 0xff) return 'utf-16be';
  if (first === 0xef && second === 0xbb && third === 0xbf) return 'utf-8';
  // "<" in two bytes: UTF-16 without its mark.
  if (first === 0x3c && second === 0) return 'utf-16le';
  return first === 0 && second === 0x3c ? 'utf-16be' : undefined;
}

function declaredEncoding(bytes: Uint8Array): string | undefined {
  const start = String.fromCharCode(...bytes.subarray(0, 200));
  return /^<\?xml[^>]*?\sencoding\s*=\s*["']([A-Za-z][\w.-]*)["']/.exec(start)?.[1];
}
