/** Chance that can be repeated: the same seed gives the same draws on every device. */

/** A source of draws; each call gives a whole number from 0 to `below` − 1. */
export type Draw = (below: number) => number;

const MODULUS = 2_147_483_647;
const MULTIPLIER = 16_807;

/**
 * The next number of the "minimal standard" generator: 16807 z mod (2³¹ − 1). From 1 it gives 1043618065 after 10,000
 * calls
 * (S. K. Park, K. W. Miller, Random number generators: good ones are hard to find, Communications of the ACM 31 (1988)
 * 1195).
 */
export function nextMinimal(z: number): number {
  return (z * MULTIPLIER) % MODULUS;
}

/** Draws from a seed of any text. */
export function drawsFrom(seed: string): Draw {
  let z = (hashText(seed) % (MODULUS - 1)) + 1;
  // The first numbers of neighbouring seeds are alike; three steps part them.
  for (let step = 0; step < 3; step++) z = nextMinimal(z);
  return (below) => {
    z = nextMinimal(z);
    return Math.floor((z / MODULUS) * below);
  };
}

/**
 * A copy in an order drawn evenly from all orders (R. Durstenfeld, Algorithm 235, Communications of the ACM 7 (1964)
 * 420).
 */
export function shuffle<T>(list: readonly T[], draw: Draw): T[] {
  const order = [...list];
  for (let last = order.length - 1; last > 0; last--) {
    const other = draw(last + 1);
    [order[last], order[other]] = [order[other]!, order[last]!];
  }
  return order;
}

const FNV_PRIME = 0x01000193;
const FNV_OFFSET = 0x811c9dc5;

/** FNV-1a over the text's UTF-8 bytes, 32 bits ("" gives 811c9dc5, "foobar" bf9cf968). */
export function hashText(text: string): number {
  let hash = FNV_OFFSET;
  for (const byte of new TextEncoder().encode(text)) hash = Math.imul(hash ^ byte, FNV_PRIME);
  return hash >>> 0;
}
