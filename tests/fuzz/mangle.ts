/** Lengths and values at which programs trip: MQTT lengths, Firmata commands, line ends, quotes, brackets, NUL, half a UTF-8 letter. */
const AWKWARD = [
  0x00, 0x7f, 0x80, 0xff, 0xf0, 0xf7, 0x0a, 0x0d, 0x22, 0x2c, 0x5b, 0x5d, 0x7b, 0x7d, 0x5c, 0xc3, 0x10, 0x30,
  0xe0,
];
const MOST_CHANGES = 6;
const MOST_REPEATS = 400;
const NOISE_SHARE = 0.1;
const MOST_NOISE_BYTES = 600;

type Random = () => number;
const below = (random: Random, limit: number): number => Math.floor(random() * limit);
const byteOf = (random: Random): number =>
  random() < 0.5 ? (AWKWARD[below(random, AWKWARD.length)] ?? 0) : below(random, 256);

function changed(bytes: Buffer, other: Buffer, random: Random): Buffer {
  const at = below(random, bytes.length + 1);
  const to = Math.min(bytes.length, at + 1 + below(random, 12));
  const [before, piece, after] = [bytes.subarray(0, at), bytes.subarray(at, to), bytes.subarray(to)];
  switch (below(random, 6)) {
    case 0:
      return Buffer.concat([before, Buffer.from(piece.map(() => byteOf(random))), after]);
    case 1:
      return Buffer.concat([before, after]);
    case 2:
      return Buffer.concat([before, Buffer.from([byteOf(random)]), piece, after]);
    case 3:
      return Buffer.concat([before, ...Array<Buffer>(1 + below(random, MOST_REPEATS)).fill(piece), after]);
    case 4:
      return before;
    default:
      return Buffer.concat([before, other.subarray(below(random, other.length))]);
  }
}

/** A good input made bad at the level of its bytes: overwritten, cut, repeated, grafted with another one; now and then plain noise. */
export function mangled(good: readonly Buffer[], random: Random): Buffer {
  if (random() < NOISE_SHARE)
    return Buffer.from(Array.from({ length: below(random, MOST_NOISE_BYTES) }, () => byteOf(random)));
  const pick = () => good[below(random, good.length)] ?? Buffer.alloc(0);
  let bytes = pick();
  for (let left = 1 + below(random, MOST_CHANGES); left > 0; left--) bytes = changed(bytes, pick(), random);
  return bytes;
}
