/** Check codes of cards: short enough to read out, with a symbol that catches a slip. */
import { sha256 } from "@noble/hashes/sha2.js";
import { utf8ToBytes } from "@noble/hashes/utils.js";

/** Crockford's base 32: no I, L, O or U. The last five are check symbols only. */
const SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ*~$=U";
const DATA = 5;
/** The symbols that a printed code can have. */
export const CODE_SYMBOLS = SYMBOLS.slice(0, 32);
/** Symbols of a code without its hyphen, the check symbol among them. */
export const CODE_LENGTH = DATA + 1;

/** Different codes that there are: 25 bits, of which 32 in 37 have a check symbol that is a letter or a digit. */
export const CODES = 29_020_052;

/**
 * The check symbol of a number: its remainder by 37 (Douglas Crockford, Base 32, "Checksums"). One wrong symbol or two
 * neighbours exchanged change it.
 */
export function checkSymbol(value: number): string {
  return SYMBOLS[value % 37]!;
}

/** A number in base 32 with at least `length` symbols. */
export function encode(value: number, length = 1): string {
  let text = "";
  for (let rest = value; rest > 0 || text.length < length; rest = Math.floor(rest / 32))
    text = SYMBOLS[rest % 32]! + text;
  return text;
}

/**
 * The check code of a card from the hash of its content, in the form `7K3F-QS`: five symbols of data and the check
 * symbol.
 * The check symbols `*~$=U` are never printed: the hash is salted with 0, 1, 2 … until the check symbol is a letter or
 * a digit.
 * With n cards, two of them share a code with a probability of about n(n-1) / (2 × 29,020,052): 0.07 % for 200 cards.
 */
export function codeOf(hash: string): string {
  for (let salt = 0; ; salt += 1) {
    const [a = 0, b = 0, c = 0, d = 0] = sha256(utf8ToBytes(`${hash}/${salt}`));
    const value = ((a << 24) | (b << 16) | (c << 8) | d) >>> 7;
    const check = value % 37;
    if (check < 32) return format(encode(value, DATA) + SYMBOLS[check]!);
  }
}

/** The symbols that someone typed or read out, without case, spaces and dashes of any kind. */
export function symbolsTyped(typed: string): string {
  return typed.toUpperCase().replace(/[\s\p{Pd}−]/gu, "");
}

/**
 * A code as it is printed from what someone typed or read out: case, spaces and dashes of any kind don't matter,
 * O is 0, I and L are 1. May still be wrong.
 */
export function normalizeCode(typed: string): string {
  return format(symbolsTyped(typed).replace(/O/g, "0").replace(/[IL]/g, "1"));
}

/** Whether a code has six symbols and the right check symbol. */
export function isValidCode(typed: string): boolean {
  const symbols = normalizeCode(typed).replace("-", "");
  if (symbols.length !== CODE_LENGTH) return false;
  const values = [...symbols].map((symbol) => CODE_SYMBOLS.indexOf(symbol));
  if (values.includes(-1)) return false;
  return values.slice(0, DATA).reduce((sum, value) => sum * 32 + value, 0) % 37 === values[DATA];
}

/** Probability that among `cards` different cards at least two share a code (birthday bound). */
export function collisionProbability(cards: number): number {
  return -Math.expm1(-(cards * (cards - 1)) / (2 * CODES));
}

function format(symbols: string): string {
  return symbols.length > 4 ? `${symbols.slice(0, 4)}-${symbols.slice(4)}` : symbols;
}
