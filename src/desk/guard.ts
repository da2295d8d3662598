/** Which requests the desk answers: those of its own pages on this machine, and no other. */
import { timingSafeEqual } from "node:crypto";
import type { IncomingMessage } from "node:http";
import { heard } from "../words/heard.ts";

/** What a request must know: the key in its path, and the host under which the desk was opened. */
export interface Door {
  readonly key: string;
  /** `127.0.0.1:4330` */
  readonly host: string;
}

/** Why a request is not answered: a status of HTTP (RFC 9110, section 15) and a sentence for who reads it. */
export interface Refused {
  readonly status: number;
  readonly text: string;
}

/** A request that may be answered. */
export interface Admitted {
  readonly method: "GET" | "HEAD" | "POST";
  /** The decoded path behind the key, without the leading slash: `""`, `site/tern/`. */
  readonly address: string;
  readonly query: URLSearchParams;
}

const METHODS = ["GET", "HEAD", "POST"] as const;
/** What may be sent to the desk. None of them is what a form or a plain request of another page can send. */
const SENDABLE = ["application/json", "application/octet-stream"];
const LONGEST_ADDRESS = 4_000;

/**
 * What a request asks for, or why it is refused. The key stands in the path, not in a cookie: cookies of 127.0.0.1 are
 * shown to the servers of all its ports, and are sent along with whatever another page asks for. A page of another
 * origin that has found a way to this address by a name of its own is known by the name (`Host`); what its scripts,
 * forms, frames and sockets ask for is known by `Origin` and `Sec-Fetch-Site`.
 */
export function admit(request: IncomingMessage, { key, host }: Door): Admitted | Refused {
  const { headers, url = "" } = request,
    origin = headers.origin,
    from = headers["sec-fetch-site"];
  const method = METHODS.find((each) => each === request.method);
  if (headers.host !== host) return { status: 403, text: heard("deskDoor").onlyHere({ host }) };
  const isStrange =
    (origin !== undefined && origin !== `http://${host}`) ||
    (from !== undefined && from !== "same-origin" && from !== "none");
  if (isStrange) return { status: 403, text: heard("deskDoor").strange };
  if (!method) return { status: 405, text: heard("deskDoor").methods };
  if (url.length > LONGEST_ADDRESS) return { status: 414, text: heard("deskDoor").tooLong };
  const [, given = "", rest = ""] = /^\/([^/?#]*)(?:\/([^?#]*))?/.exec(url) ?? [];
  if (!isSame(given, key))
    return {
      status: 403,
      text: heard("deskDoor").noKey,
    };
  if (method === "POST" && origin === undefined) return { status: 403, text: heard("deskDoor").noOrigin };
  if (method === "POST" && !SENDABLE.includes(headers["content-type"]?.split(";")[0]?.trim() ?? ""))
    return { status: 415, text: heard("deskDoor").whichType };
  const address = decoded(rest);
  if (address === undefined) return { status: 400, text: heard("deskDoor").noAddress };
  return { method, address, query: new URLSearchParams(/\?([^#]*)/.exec(url)?.[1] ?? "") };
}

/** The path as it is meant; `undefined` for bad escapes, a step up, a hidden file. */
function decoded(path: string): string | undefined {
  try {
    const address = decodeURIComponent(path);
    return /\0|\\|(^|\/)\./.test(address) ? undefined : address;
  } catch {
    return undefined;
  }
}

/** Compared in a time that tells nothing of where they differ. */
function isSame(given: string, key: string): boolean {
  const [a, b] = [Buffer.from(given), Buffer.from(key)];
  return a.length === b.length && timingSafeEqual(a, b);
}

/** The bytes that a request sends; refused beyond `most`, said or not said beforehand. */
export async function bodyOf(request: IncomingMessage, most: number): Promise<Buffer | Refused> {
  const tooLarge: Refused = {
    status: 413,
    text: heard("deskDoor").tooMuch({ megabytes: Math.floor(most / 1e6) }),
  };
  if (Number(request.headers["content-length"] ?? 0) > most) return tooLarge;
  const pieces: Buffer[] = [];
  let length = 0;
  for await (const piece of request as AsyncIterable<Buffer>) {
    length += piece.length;
    if (length > most) return tooLarge;
    pieces.push(piece);
  }
  return Buffer.concat(pieces);
}
