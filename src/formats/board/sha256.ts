/** SHA-256 of bytes (FIPS 180-4, section 6.2), for the few lines of script a page allows itself by their digest. */
export function sha256(message: Uint8Array): Uint8Array {
  const state = Uint32Array.from(PRIMES.slice(0, 8), (prime) => fraction(prime ** (1 / 2)));
  const padded = pad(message);
  for (let at = 0; at < padded.byteLength; at += 64) mixBlock(state, new DataView(padded.buffer, at, 64));
  const digest = new Uint8Array(32);
  state.forEach((word, index) => new DataView(digest.buffer).setUint32(index * 4, word));
  return digest;
}

/** A one, zeros, and the length in bits, up to whole blocks of 64 bytes (section 5.1.1). */
function pad(message: Uint8Array): Uint8Array<ArrayBuffer> {
  const padded = new Uint8Array(Math.ceil((message.length + 9) / 64) * 64);
  padded.set(message);
  padded[message.length] = 0x80;
  new DataView(padded.buffer).setBigUint64(padded.length - 8, BigInt(message.length) * 8n);
  return padded;
}

function mixBlock(state: Uint32Array, block: DataView): void {
  const schedule = scheduleOf(block);
  let [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0] = state;
  schedule.forEach((word, round) => {
    const first = h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + (CONSTANTS[round] ?? 0) + word;
    const second = (turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + first) | 0, c, b, a, (first + second) | 0];
  });
  [a, b, c, d, e, f, g, h].forEach((word, index) => {
    state[index] = (state[index] ?? 0) + word;
  });
}

function scheduleOf(block: DataView): Uint32Array {
  const words = new Uint32Array(64);
  const word = (index: number): number => words[index] ?? 0;
  for (let at = 0; at < 64; at += 1) {
    if (at < 16) {
      words[at] = block.getUint32(at * 4);
      continue;
    }
    const [near, far] = [word(at - 2), word(at - 15)];
    words[at] = (turn(near, 17) ^ turn(near, 19) ^ (near >>> 10)) + word(at - 7) + (turn(far, 7) ^ turn(far, 18) ^ (far >>> 3)) + word(at - 16);
  }
  return words;
}

function turn(word: number, bits: number): number {
  return (word >>> bits) | (word << (32 - bits));
}

const PRIMES = [...Array(312).keys()].filter((number) => number > 1 && ![...Array(number).keys()].some((part) => part > 1 && number % part === 0));

/** The first 32 bits of the broken part of the cube roots of the first 64 primes (section 4.2.2); a double holds 50 of them. */
const CONSTANTS = Uint32Array.from(PRIMES, (prime) => fraction(Math.cbrt(prime)));

function fraction(root: number): number {
  return Math.floor((root - Math.floor(root)) * 2 ** 32);
}
