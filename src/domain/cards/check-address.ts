/** Where the page of a check code stands, and what is wrong with a code that someone typed. */
import { CODE_LENGTH, CODE_SYMBOLS, isValidCode, normalizeCode, symbolsTyped } from "./check-code.ts";
import { heard } from "../../words/heard.ts";

/**
 * Address of the page of a card: `C/7K3FQS/`. All upper case, so that a QR code of the whole address needs only the
 * alphanumeric mode (ISO/IEC 18004:
 * digits, capitals, `$ % * + - . / :` and the space) and stays small. The hyphen is left out: it is there for people.
 */
export function addressOfCode(code: string): string {
  return `C/${normalizeCode(code).replace("-", "")}/`;
}

/** What someone typed: a code, or what is wrong with it. */
type ReadCode =
  | { readonly ok: true; readonly code: string }
  | { readonly ok: false; readonly code: string; readonly because: string };

/**
 * Reads a typed code: small letters, spaces and hyphens don't matter, O is 0, I and L are 1 (Douglas Crockford, Base
 * 32). Says which symbol can't be right, or that the
 * last one does not fit the others: then one symbol is wrong, or two are exchanged, and nobody can say which.
 */
export function readCode(typed: string): ReadCode {
  const code = normalizeCode(typed);
  const symbols = code.replace("-", "");
  const refuse = (because: string): ReadCode => ({ ok: false, code, because });
  if (!symbols) return refuse(heard("checkCode").typeTheSixSymbols);
  const odd = [...symbols].findIndex((symbol) => !CODE_SYMBOLS.includes(symbol));
  if (odd >= 0)
    return refuse(
      heard("checkCode").symbolIsNever({
        odd: odd + 1,
        symbols: [...symbols][odd]!,
        isIt: symbols[odd] === "U" ? heard("checkCode").isItAV : "",
      }),
    );
  if (symbols.length !== CODE_LENGTH) return refuse(heard("checkCode").aCheckCodeHas({ symbols: symbols.length }));
  // As it was typed: who typed O looks for an O.
  if (!isValidCode(symbols))
    return refuse(heard("checkCode").theLastSymbolDoes({ symbols: symbolsTyped(typed).at(-1)! }));
  return { ok: true, code };
}
