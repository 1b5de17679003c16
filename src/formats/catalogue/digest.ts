/**
 * Digests of 64 bits for telling things apart, as 16 hex digits: two 32-bit lanes of multiply and mix with different constants,
 * crossed at the end. They are fast and prove nothing against intent.
 */
export function textDigest(text: string): string {
  const lanes = start();
  for (let index = 0; index < text.length; index += 1) mix(lanes, text.charCodeAt(index));
  return finish(lanes);
}

/** The same over bytes, four at a time. */
export function byteDigest(bytes: Uint8Array): string {
  const lanes = start();
  const whole = bytes.length - (bytes.length % 4);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (let index = 0; index < whole; index += 4) mix(lanes, view.getUint32(index, true));
  for (let index = whole; index < bytes.length; index += 1) mix(lanes, bytes[index] ?? 0);
  mix(lanes, bytes.length);
  return finish(lanes);
}

interface Lanes {
  a: number;
  b: number;
}

function start(): Lanes {
  return { a: 0x9e3779b1, b: 0x85ebca77 };
}

/** The multipliers are large primes; any odd numbers with well spread bits would do. */
function mix(lanes: Lanes, value: number): void {
  lanes.a = Math.imul(lanes.a ^ value, 0x9e3779b1);
  lanes.b = Math.imul(lanes.b ^ value, 0x5f356495);
  lanes.a ^= lanes.a >>> 15;
  lanes.b ^= lanes.b >>> 13;
}

function finish({ a, b }: Lanes): string {
  const high = Math.imul(a ^ (a >>> 16), 0x85ebca6b) ^ Math.imul(b ^ (b >>> 13), 0xc2b2ae35);
  const low = Math.imul(b ^ (b >>> 16), 0x85ebca6b) ^ Math.imul(a ^ (a >>> 13), 0xc2b2ae35);
  return (high >>> 0).toString(16).padStart(8, '0') + (low >>> 0).toString(16).padStart(8, '0');
}
